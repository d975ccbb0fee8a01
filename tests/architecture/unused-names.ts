/**
 * Public names outside `stats` that no notebook, page, command or guide uses,
 * with the reason why they are public all the same. A test fails when one of
 * them is used after all, or does not exist.
 */
export const unusedNames: readonly { readonly reason: string; readonly names: string }[] = [
  {
    reason: "A nursery with weighings unlike those measured finds thresholds of its own.",
    names: "flags.calibrateFlags flags.thresholdsFor",
  },
  {
    reason:
      "The figures behind what a page says of false flags and limits, for a report's methods.",
    names: "flags.measuredRuleRates flags.defaultFlagLimits",
  },
  {
    reason: "A curve of one's own: defined, its gradient checked, fitted like those that ship.",
    names: "growth.defineCurve growth.checkGradient growth.curveByName",
  },
  {
    reason: "Questions a researcher asks of a fit that is already there.",
    names:
      "growth.ageAtMass growth.maturityAt growth.relativeGainAt growth.derivedQuantity growth.predictGain growth.residualPattern",
  },
  {
    reason: "Fits for data that the study format does not hold: known errors, shared parameters.",
    names: "growth.knownErrors growth.relativeWeights growth.fitSharedCurve",
  },
  {
    reason: "How far a cohort's intervals can be trusted, and an animal followed day by day.",
    names:
      "growth.bootstrapCohort growth.calibrateCohort growth.followNewAnimal growth.predictForCohortAnimal",
  },
  {
    reason: "One ration, sheet or batch by itself, for a kitchen with a program of its own.",
    names:
      "planning.apportionGrams planning.batchSize planning.daySheet planning.planRation planning.usualScenarios",
  },
  {
    reason: "A formula mixed to a target; asked for by those who write diets, not by a page.",
    names: "planning.mixFormula",
  },
  {
    reason: "Feed conversion of a cohort and its uncertainty, for a husbandry paper.",
    names: "rates.cohortConversion rates.resampleConversion rates.gainAdjustedMass",
  },
  {
    reason: "Residual feed intake and the errors it rests on, for a husbandry paper.",
    names: "rates.efficiencyRows rates.residualFeedIntake rates.serialEvidence",
  },
  {
    reason: "Published formulas of animal nutrition, each with its source.",
    names:
      "rates.dryMatterShare rates.energyFactors rates.fourStepEnergy rates.gramsPer1000Kcal rates.kleiberRatio rates.maintenanceAt rates.metabolicSize rates.puppyGrowthEnergy rates.restingEnergy",
  },
  {
    reason: "Intake feed by feed, and milk by weighing before and after, for one's own question.",
    names: "rates.intakeByFeed rates.testWeighings",
  },
  {
    reason: "Records that lie in no folder, or are too many to be held in memory.",
    names: "records.dataDictionary records.totalRecords",
  },
  {
    reason: "A reference of one's own: built, checked, and asked for centiles and z-scores.",
    names:
      "reference.buildReference reference.checkReference reference.conditionalZ reference.conditionalZGivenAll reference.lmsAtAge reference.lowGainLine reference.makeReferenceTable reference.ownTrend reference.referenceCurves reference.referenceFromCohort reference.referenceZ reference.velocityZ",
  },
  {
    reason: "The next season planned: how many animals show which difference.",
    names: "seasons.animalsNeeded seasons.comparisonPower seasons.detectableDifference",
  },
  {
    reason: "One milestone or one protocol by itself, for a question that no page asks.",
    names: "seasons.describeMilestone seasons.milestoneTimes seasons.protocolSeasons",
  },
  {
    reason: "A picture of one's own that `show` displays like those of the pages.",
    names: "report.makeChart",
  },
  {
    reason: "A written quantity with its unit, read as the records are.",
    names: "units.readQuantity",
  },
];
