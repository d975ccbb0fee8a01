/** Sets that are not yet read as a careful person reads them, by name, each with what fails first. */
export const notYet: Readonly<Record<string, string>> = {
  "temperature 34.9C: the unit stands in the cell":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "temperature 94.8 F, in Fahrenheit":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "temperature 34.9 Celsius":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "temperature 100.2 without a unit is asked about":
    'observations line 62 ("100.2") was not asked about',
  "temperature in words is shown as written":
    "handOver of P1 does not say /could not be read|cannot be read/i",
  "temperature under a limit: <35":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now|could not be read|cannot be read/i",
  "temperature as a range takes the worse end":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now|could not be read|cannot be read/i",
  'vomit "none seen" is none': "handOver of P1 says On hold",
  'vomit "no vomit" is none': "handOver of P1 says On hold",
  'vomit "nothing" is none': "handOver of P1 says On hold",
  'vomit "0x" is none': "handOver of P1 says On hold",
  'vomit "None." is none': "handOver of P1 says On hold",
  "vomit that cannot be read": "handOver of P1 does not say /could not be read|cannot be read/i",
  "regurgitation 0 mL is none": "handOver of P1 says On hold",
  "bloat none seen is none": "handOver of P1 says On hold",
  "glucose 1.8 mmol/L is low":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "glucose 32 mg/dL is low":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "glucose LO: below what the meter shows":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now|could not be read|cannot be read/i",
  "an animal that cannot be roused":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "an animal that will not suckle":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now/i",
  "a kind that is spelt Temp":
    "handOver of P1 does not say /do not feed|bholdb|on hold|danger|call now|could not be read|cannot be read/i",
};
