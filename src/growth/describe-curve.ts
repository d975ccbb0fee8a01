import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { type CurveName, curveByName } from "./curve-catalogue.js";
import type { CurveFit } from "./curve-fit-value.js";
import { type GrowthCurve, parameterUnit } from "./growth-curve.js";

export interface CurveDescription {
  readonly name: string;
  readonly title: string;
  readonly equation: string;
  readonly domain: string;
  readonly parameters: readonly {
    readonly name: string;
    readonly meaning: string;
    readonly unit: string;
    /** The fitted value, where a fit was described; `null` where it has none. */
    readonly value: number | null;
    readonly se: number | null;
  }[];
  /** One sentence a line: the equation, each parameter, the domain. */
  readonly lines: readonly Notice[];
}

/**
 * The equation of a curve and what each parameter means, in words with units;
 * with the fitted values where a fit is given.
 *
 * @example describeCurve("gompertz").value.equation // "W(t) = A exp(-exp(-k (t - Ti)))"
 */
export function describeCurve(
  what: CurveName | GrowthCurve | CurveFit,
  options: {
    readonly ageUnit?: string;
    readonly massUnit?: string;
    readonly curve?: GrowthCurve;
  } = {},
): Result<"describe-curve", CurveDescription> {
  const fit = typeof what === "object" && "kind" in what ? what : null;
  const curve =
    options.curve ??
    curveByName(fit === null ? (what as CurveName | GrowthCurve) : fit.value.curve);
  const ageUnit = options.ageUnit ?? fit?.value.units.age ?? "d";
  const massUnit = options.massUnit ?? fit?.value.units.mass ?? "g";
  const parameters = curve.parameters.map(({ name, meaning, kind }, j) => {
    const estimate = fit?.value.estimates[j]?.estimate;
    return {
      name,
      meaning,
      unit: parameterUnit(kind, ageUnit, massUnit),
      value: estimate?.value ?? null,
      se: estimate?.se ?? null,
    };
  });
  const lines = [
    notice("growth-equation", "info", {
      curve: curve.title,
      equation: curve.equation,
      ageUnit,
      massUnit,
    }),
    ...parameters.map((each) =>
      each.value === null
        ? notice("growth-parameter-meaning", "info", { ...each })
        : notice("growth-parameter-value", "info", { ...each }),
    ),
    notice("growth-domain", "info", { domain: curve.domain }),
  ];
  return {
    kind: "describe-curve",
    schema: 1,
    value: {
      name: curve.name,
      title: curve.title,
      equation: curve.equation,
      domain: curve.domain,
      parameters,
      lines,
    },
    method: { name: "Description", options: { ageUnit, massUnit }, citations: curve.citations },
    basis: fit?.basis ?? { used: 0, leftOut: [], of: "weighings" },
    diagnostics: {},
    notices: fit?.notices ?? [],
  };
}
