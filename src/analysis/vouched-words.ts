/**
 * Words that name no person: of foods, places, scales and groups, as ids and names
 * of a study are often made of. Exports without people keep an id or a name when it
 * is made of these, of numbers, or of at most three letters beside a number.
 */
export const vouchedWords: ReadonlySet<string> = new Set(
  `a an and as for from in no of on or the to with without per before after
  formula milk mixture mix replacer cream colostrum gruel slurry paste puree broth electrolyte
  electrolytes rehydration solution water saline glucose dextrose sugar oil fish salmon herring
  capelin sprat sprats mackerel sardine sardines anchovy anchovies smelt squid clam clams mussel
  mussels crab crabs shrimp prawn prawns krill urchin urchins abalone octopus scallop scallops
  sea whole chopped minced ground blended fresh frozen thawed ice peeled shelled solid solids
  supplement supplements vitamin vitamins mineral mineral thiamine calcium salt egg eggs
  rich lean thin thick strong weak full half quarter double single standard weaning starter grower
  first second third fourth fifth last early late old new small large big high low main spare
  otter otters seal seals pup pups harbour harbor grey gray ringed elephant lion lions animal animals
  group cohort season year spring summer autumn fall winter litter pair
  room nursery isolation intensive care clinic ward surgery kitchen pool pools pond pen pens tank
  tanks tub cage bay yard dock net indoor outdoor indoors outdoors inside outside wet dry warm cold
  heated shared quarantine rehabilitation release pre north south east west upper lower left right
  scale scales balance bench floor platform hanging hand portable table digital bucket
  batch lot diet food feed feeds bottle syringe tube bowl tray day night morning evening
  one two three four five six seven eight nine ten`.split(/\s+/),
);
