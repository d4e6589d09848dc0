/** One sentence of help for a field. */
export interface FieldHelp {
  readonly text: string;
  /** Where a figure in it comes from. */
  readonly source?: string;
  /** The glossary's term behind it, by id. */
  readonly term?: string;
}

const PRACTICE = "common practice";
const DESCRIPTION = "the part's description or a bench";

const all = {
  // The engine and its place
  displacement: {
    text: "The volume that all pistons sweep in one stroke; air and fuel of a cycle go with it.",
    source: "the engine's papers, or bore and stroke",
    term: "displacement",
  },
  cylinders: { text: "How many cylinders share the displacement and the fuel." },
  "rev-limit": { text: "The highest speed the engine runs: parts have to suffice up to there." },
  idle: { text: "The speed it idles at: injectors must still repeat the short pulses there.", term: "short-pulse" },
  "injections-in-a-cycle": {
    text: "Whether an injector opens once in a cycle of two revolutions, or once in each: then each pulse gives half.",
    term: "duty",
  },
  "injectors-per-cylinder": { text: "How many injectors of this kind feed one cylinder." },
  altitude: {
    text: "Height over the sea, from which the outside pressure follows where it is not given.",
    source: "ISO 2533 standard atmosphere",
    term: "barometric-pressure",
  },
  "air-temperature": { text: "Of the outside air in the shade: warm air is thinner." },
  humidity: { text: "Vapour takes the place of air that could burn fuel." },
  density: {
    text: "Kilograms in a litre, which turns what a pump gives by volume into mass.",
    source: "the fuel's data sheet",
  },
  "heating-value": {
    text: "Heat that a kilogram gives as it burns, with the water left as steam: power is estimated from it.",
    source: "the fuel's data sheet",
  },
  "latent-heat": {
    text: "Heat that a kilogram takes up as it evaporates: it cools the charge.",
    source: "the fuel's data sheet",
    term: "latent-heat",
  },
  // Injectors
  "injector-flow": {
    text: "What the injector gives when it is held open, at the pressure it is rated at.",
    source: DESCRIPTION,
    term: "static-flow",
  },
  "injector-rated-at": {
    text: "The pressure across the injector at which that flow was measured.",
    source: DESCRIPTION,
    term: "rail-pressure",
  },
  "injector-test-density": {
    text: "Of the fluid that the flow was measured with: by mass an injector gives more of a denser one.",
    source: DESCRIPTION,
  },
  "dead-time": {
    text: "The part of a pulse that delivers nothing, as the injector opens later than it closes; it grows as voltage falls.",
    source: "a bench at several voltages",
    term: "dead-time",
  },
  "smallest-pulse": {
    text: "The shortest pulse at which the injector gives the same each time.",
    source: DESCRIPTION,
    term: "short-pulse",
  },
  // Verdicts, wishes, the dyno
  "verdicts-when": {
    text: "Parts can be judged as they were, or with what the steps of the job put in.",
    term: "ceiling",
  },
  "parts-of": { text: "The stage whose body, manifold and cam stand beside those of now.", term: "stage" },
  "wished-what": { text: "Whether a power is the aim, or a larger engine that fills as well as this one." },
  "wished-power": {
    text: "At the crank: air and fuel are taken to grow with it, at the mixture and efficiency of now.",
    source: "an estimate from the fuel's heat, common practice",
  },
  "wished-displacement": { text: "Air and fuel of a cycle grow with it, if it fills as well.", term: "displacement" },
  "power-measured": { text: "As the dyno showed it, before any correction.", source: "the dyno's sheet" },
  "dyno-air": {
    text: "Of the air that the engine drew in during the run: warm air is thinner.",
    source: "SAE J1349, ISO 1585 and DIN 70020 say what it is brought to",
  },
  "dyno-barometer": {
    text: "The outside pressure as it stood during the run, not brought to the sea's level.",
    source: "a barometer in the room",
    term: "barometric-pressure",
  },
  "dyno-humidity": {
    text: "Vapour takes the place of air: the standards count dry air.",
    source: "SAE J1349, ISO 1585",
  },
  // Steps on cells
  "soft-edge-rpm": {
    text: "Over this width outside the region the step fades out along rpm, so that it leaves no ridge.",
    term: "region",
  },
  "soft-edge-load": {
    text: "Over this width outside the region the step fades out along load, so that it leaves no ridge.",
    term: "region",
  },
  "set-value": { text: "Every cell selected becomes this value.", term: "cell" },
  "scale-change": { text: "Every cell selected becomes so much more, or less with a minus before it." },
  "offset-amount": { text: "Added to every cell selected; with a minus before it, taken off." },
  "at-least": { text: "Cells below it are brought up to it." },
  "at-most": { text: "Cells above it are brought down to it." },
  "fill-along": {
    text: "Whether the cells are drawn in as a sheet held by all cells around, or as straight lines along one side.",
  },
  "smooth-how": {
    text: "By hand you say how stiff the sheet is; as the table asks, it is found from how well each cell is foretold by the others.",
    source: "generalised cross-validation",
    term: "smoothing",
  },
  "smooth-rpm": {
    text: "How stiff the sheet is along rpm: at the left end nothing is smoothed, and each step to the right is stronger.",
    term: "smoothing",
  },
  "smooth-load": {
    text: "How stiff the sheet is along load: at the left end nothing is smoothed, and each step to the right is stronger.",
    term: "smoothing",
  },
  "smooth-hold": {
    text: "Whether the selection's rim stays fast, or only locked cells do and all cells around pull with their weight.",
    term: "smoothing",
  },
  "smooth-weight": {
    text: "How much the selected cells count against smoothness: cells that are known to be wrong count little or not at all.",
  },
  "most-change": { text: "Cells that would move by more are moved by just this much." },
  expression: {
    text: "Worked out for each cell: cell, rpm and load stand for what they say, and other tables for their value at the same place.",
  },
  "blend-with": { text: "The table that is mixed in, read at this table's own breakpoints." },
  "blend-after": {
    text: "The state of that table which is mixed in: as brought in, after an earlier step, or as it stands now.",
    term: "step",
  },
  "blend-weight": { text: "Whether the same share is mixed in everywhere, or a share that rises along rpm or load." },
  "blend-share": { text: "How much of the other table is mixed in: none leaves this one, all of it gives the other." },
  "storage-min": {
    text: "The least value the controller can hold in a cell; less is cut off.",
    source: "the controller's description",
    term: "storage",
  },
  "storage-max": {
    text: "The greatest value the controller can hold in a cell; more is cut off.",
    source: "the controller's description",
    term: "storage",
  },
  "storage-step": {
    text: "Two values that the controller can tell apart differ by this much; each cell is rounded to it.",
    source: "the controller's description",
    term: "storage",
  },
  "storage-diffuse": {
    text: "What rounding takes from a cell goes on to the next in its row, so that fuel over the row stays the same.",
    term: "storage",
  },
  "new-breakpoints": {
    text: "The values at which the table has cells from now on, rising, with blanks or commas between them.",
    term: "rebin",
  },
  "how-many-breakpoints": {
    text: "Chosen so that the surface is kept as well as so many can; beside each number stands what it loses.",
    term: "rebin",
  },
  "extend-to": {
    text: "Further breakpoints beyond the ends of the axis, which continue the table's slope: a first guess.",
    term: "first-guess",
  },
  "extend-trend": {
    text: "From how many of the last breakpoints the slope is taken that goes on beyond them.",
    term: "first-guess",
  },
  "extend-fade": {
    text: "How far the slope goes on before it has faded away, in lengths of the stretch it was taken from.",
    term: "first-guess",
  },
  // Parts and mixture
  "made-for": { text: "The mixture that the table's cells were found to give, or were meant to.", term: "lambda" },
  "wished-for": {
    text: "The mixture that each cell shall give: richer takes more fuel, in the ratio of the two lambdas.",
    term: "lambda",
  },
  "mixture-table": { text: "The lambda table that says it, cell by cell.", term: "target-table" },
  "mixture-after": {
    text: "The state of that table which says it: as brought in, after an earlier step, or as it stands now.",
    term: "step",
  },
  "target-follows": {
    text: "The target table then says what the fuel table gives, and later steps start from it.",
    term: "target-table",
  },
  "stoichiometric-ratio": {
    text: "Kilograms of air to a kilogram of fuel at lambda one.",
    source: "the fuel's composition",
    term: "stoichiometric",
  },
  "fuel-choice": {
    text: "Ratio, density and heats come with it; each can be given by hand.",
    source: "properties of pure compounds and a nominal petrol",
    term: "stoichiometric",
  },
  "displacement-new": {
    text: "At the same filling, air and fuel of a cylinder go with it: a first guess until evidence says more.",
    term: "displacement",
  },
  bore: {
    text: "The inside of the body where the plate sits, plate and shaft not taken off.",
    source: "measured, or the part's description",
    term: "throttle-body",
  },
  "manifold-area": {
    text: "The area of an ideal nozzle that passes as much air as one passage does.",
    source: "a flow bench",
    term: "manifold",
  },
  "manifold-flow": {
    text: "Air through one passage on the bench, at the bench's depression.",
    source: "a flow bench",
    term: "manifold",
  },
  "curve-along": { text: "The side along which the curve runs; it is the same across the other." },
  "curve-point-at": { text: "Where on the axis the point stands.", term: "breakpoint" },
  "curve-point-change": {
    text: "How much more the cells become there; between points the curve is smooth.",
    term: "first-guess",
  },
  "convert-as": { text: "What the new table's cells say; the fuel is the same.", term: "fuel-table" },
  "split-into": { text: "How many tables are made, one for each cylinder, all alike at first." },
  "join-keep": { text: "What the base holds, from which each cylinder's trim then departs.", term: "trim" },
  "copy-from": { text: "The cylinder whose cells are taken.", term: "cell" },
  "copy-to": { text: "The cylinder whose cells become the same.", term: "cell" },
  "factory-pulse": {
    text: "The table of the factory's own pulses, which a trim lengthens or shortens: without it only an estimate can be given.",
    term: "in-line-unit",
  },
  "find-where": {
    text: "A condition over cell, rpm, load and other tables: the cells that meet it are selected.",
  },
  // Evidence
  "evidence-share": {
    text: "How much of each correction is taken: less, where you would rather ride twice.",
    term: "evidence",
  },
  "evidence-cap": { text: "No cell changes by more at once, however far off it seems.", source: PRACTICE },
  "evidence-deviations": {
    text: "A correction within so many of its own standard deviations is left alone, as it may be chance.",
    term: "deviation",
  },
  "evidence-manner": {
    text: "What is taken of a correction that is proven: all, all but its doubt, or the less the more it is doubted.",
    term: "deviation",
  },
  "evidence-smooth": {
    text: "Lays a gentle sheet through the corrections of neighbouring cells before they are applied.",
    term: "smoothing",
  },
  "log-hertz": {
    text: "For logs without a column of times: how many rows the logger wrote in a second.",
    source: "the logger's settings",
  },
  "gauge-afr": {
    text: "The air–fuel ratio that the gauge shows at lambda 1, by which its figures are turned into lambda.",
    source: "14.7 unless the gauge was told otherwise, common practice",
    term: "afr",
  },
  "gate-low": { text: "Readings below it are left out.", term: "gate" },
  "gate-high": { text: "Readings above it are left out.", term: "gate" },
  "gate-seconds": { text: "For how long readings are left out, or a reading may stay the very same.", term: "gate" },
  "gate-pulse": { text: "Shorter pulses inject nothing: the sensor sees air.", term: "fuel-cut" },
  "gate-throttle": {
    text: "Below it and above the speed given the controller is taken to inject nothing, where the log says no pulses.",
    term: "fuel-cut",
  },
  "gate-rpm": { text: "Only above this speed a shut throttle counts as a fuel cut.", term: "fuel-cut" },
  "gate-throttle-rate": {
    text: "While the throttle moves faster, fuel on the walls bends the mixture.",
    term: "fuel-film",
  },
  "gate-settle": { text: "For so long after the throttle has moved readings are left out too.", term: "fuel-film" },
  "gate-from": { text: "Readings before this moment of the log are left out.", term: "gate" },
  "gate-to": { text: "Readings after this moment of the log are left out.", term: "gate" },
  // What if
  "try-speed": { text: "The engine speed that is tried; nothing in the job changes.", term: "rpm" },
  "try-load": { text: "The load that is tried, on the table's own axis.", term: "load" },
  "try-mixture": { text: "The mixture that is tried: left of one is rich, right of it lean.", term: "lambda" },
  "try-fuel": { text: "The fuel that is tried, at the same air and lambda.", term: "stoichiometric" },
  "try-air": { text: "Of the air before fuel evaporates into it and cools it.", term: "latent-heat" },
  "try-evaporates": {
    text: "How much of the fuel takes its heat from the air, and not from the walls.",
    term: "latent-heat",
  },
  "try-charge": { text: "Of the mixture at the moment it lights: hotter before, hotter after." },
  "try-pressure": { text: "Of the mixture at the moment it lights: pressure holds hot gas together." },
  "try-throttle": { text: "Whether the throttle opens, which runs lean, or shuts, which runs rich.", term: "tip-in" },
  "try-walls": { text: "Cold walls hold more of the fuel and give it back later.", term: "fuel-film" },
  "try-added": { text: "How much of the fuel that is to be added comes on top for a moment.", term: "enrichment" },
  "try-decay": { text: "How long until a third of the extra fuel is left.", term: "enrichment" },
  "try-from-load": { text: "The load before the throttle moves.", term: "load" },
  "try-to-load": { text: "The load once the throttle has moved.", term: "load" },
  "try-ramp": { text: "How long the throttle takes from one place to the other.", term: "tip-in" },
  "try-film-share": { text: "How much of each injection lands on the walls.", term: "fuel-film" },
  "try-film-time": { text: "How long until most of what lies on the walls has evaporated.", term: "fuel-film" },
  "try-delay": { text: "How long the gas takes from the valve to the sensor.", term: "lag" },
  "try-lag": { text: "How long the sensor takes to follow most of a change.", term: "lag" },
  "try-demand": {
    text: "How much air and fuel the engine asks for, against what it asks now: as with a larger engine.",
    term: "duty",
  },
  "try-injector": { text: "How large the injector is, against the job's.", term: "static-flow" },
  "try-arrives": {
    text: "Drops take the heat that evaporates them from the flame; vapour has taken it before.",
    source: "latent heats of pure compounds",
    term: "latent-heat",
  },
  // Handover
  paper: { text: "The size of sheet that the card is laid out for; large tables go over as many as they need." },
  "card-tables": {
    text: "Before and after stand on one page with marks on what changed; without tables the card is a few pages.",
  },
  "between-cells": { text: "The sign between two cells of a row, as the program that reads the file wants it." },
  "decimals-with": { text: "Where a comma marks decimals, cells are parted by semicolons or tabs." },
  "rows-order": { text: "Whether the row of least load comes first or last.", term: "load" },
  "round-to-storage": {
    text: "Cells leave as the controller will hold them, not as they were worked out.",
    source: "the range and step given on Build",
    term: "storage",
  },
  "picture-inks": { text: "The colours of the pictures: for a light page, a dark one, or a black-and-white printer." },
  // Jobs and view
  "job-name": { text: "Stands on the card and names the files." },
  "job-about": { text: "Whose machine, what for, what was agreed: it stands on the card." },
  "units-shown": { text: "How figures are shown and typed; the job keeps its own units." },
  "mixture-said": { text: "One mixture in the manner you think in: only the words change.", term: "lambda" },
  theme: { text: "The page's paper and ink; tints follow." },
  "grid-density": { text: "More cells on the screen, or more room in each." },
  "cell-shading": {
    text: "Tints show what the steps changed; one ink shows how a table runs.",
    term: "scheme",
  },
} as const satisfies Readonly<Record<string, FieldHelp>>;

export type HelpId = keyof typeof all;

/** Help of every field that has some, by what the field is about. */
export const fieldHelp: Readonly<Record<HelpId, FieldHelp>> = all;
