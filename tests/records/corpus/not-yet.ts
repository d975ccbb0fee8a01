/** Sets that are not yet read as a careful person reads them, by name, each with what fails first. */
export const notYet: Readonly<Record<string, string>> = {
  "two open orders of one diet: the newest is in force": "sheet of P1 says 2400",
  "an order of twelve feeds of 96 g and two of 20 g":
    'sheet of P1 orders "10 x 42 g milk, 4 x 43 g milk", written was "12 x 96 g milk, 2 x 20 g mash"',
  "a solid ordered and never yet fed":
    'sheet of P1 orders "4 x 147 g milk, 4 x 148 g milk", written was "2 x 30 g mash, 8 x 140 g milk"',
  "two formulas in one order":
    'sheet of P1 orders "8 x 140 g milk", written was "8 x 100 g milk, 8 x 40 g rich"',
  "a number of feeds without times":
    "sheet of P1 does not say /times? (were |was |is |are )?not ordered|no times? (were |was )?ordered/i",
  "nil by mouth as the diet": "handOver of P1 does not say /nil by mouth/i",
  "NPO in the cell of the grams": "handOver of P1 does not say /nil by mouth|bNPOb/i",
  "nothing by mouth, in capitals": "sheet of P1 does not say /n(il|othing) by mouth/i",
  "zero grams of the only diet": "sheet of P1 does not say /nil by mouth|nothing|b0 gb/i",
  "zero grams of one diet of two: the other stands": "sheet of P1 does not say /baskb/i",
  "an older open order of a diet that the new one does not name":
    "sheet of P1 does not say /not ended|still ordered/i",
  "an older order with its end written stands beside the new one":
    'sheet of P1 orders "4 x 147 g milk, 4 x 148 g milk", written was "2 x 30 g mash, 8 x 140 g milk"',
  "more at night than by day, as two rows of one order":
    'sheet of P1 orders "2 x 142 g milk, 6 x 141 g milk", written was "3 x 160 g milk, 5 x 130 g milk"',
  "an order by volume": 'sheet of P1 orders "", written was "8 x 136 mL milk"',
  "an order by volume of a diet without a density": "sheet of P1 says No plan is in force",
  "an order for some days of the week is named where it cannot be printed":
    "sheet of P1 does not say /Mon Wed Fri/",
  "an order that begins inside the printed day":
    'sheet of P1 orders "8 x 140 g milk", written was "4 x 140 g milk, 4 x 160 g milk"',
  "an order that ends inside the printed day, and none after it":
    "sheet of P1 does not say /baskb|no order/i",
  "after a passing order nothing revives": "sheet of P1 does not say /baskb/i",
  "an order of the last 24 hours is marked new, with the former beside it":
    "sheet of P1 does not say /bnewb/i",
  "a feed of more than a tenth of the body mass is doubted": "handOver of P1 does not say /1,?400/",
  "a feed under a third of the usual one is doubted": "sheet of P1 does not say /40 ? ask/",
  "grams that cannot be read are shown as written": "handOver of P1 does not say /one bottle/",
};
