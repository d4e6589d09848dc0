/** A word of the trade, or of this tool, as the tool uses it. */
export interface Term {
  /** How help refers to it. */
  readonly id: string;
  readonly term: string;
  /** A sentence or two. */
  readonly words: string;
  /** Terms to read on with, by id. */
  readonly see?: readonly string[];
  /** Whether the word is this tool's own. */
  readonly own?: true;
}

const all: readonly Term[] = [
  {
    id: "afr",
    term: "air–fuel ratio (AFR)",
    words:
      "Kilograms of air to a kilogram of fuel. What it means depends on the fuel: 14.6 is stoichiometric for petrol and far too lean for ethanol; lambda says the same for every fuel.",
    see: ["lambda", "stoichiometric"],
  },
  {
    id: "air-charge",
    term: "air charge",
    words: "The mass of air that one cylinder draws in one cycle, in milligrams.",
    see: ["volumetric-efficiency"],
  },
  {
    id: "barometric-pressure",
    term: "barometric pressure",
    words:
      "The pressure of the outside air at the place itself, not reduced to sea level. It falls by about 1.1 kPa for each 100 m.",
    see: ["map"],
  },
  {
    id: "breakpoint",
    term: "breakpoint",
    words:
      "One of the values along an axis at which a table has cells. Between breakpoints the controller and this tool take a straight line.",
    see: ["cell", "axis"],
  },
  {
    id: "axis",
    term: "axis",
    words: "One side of a table: rpm along it, load up it. Its breakpoints rise from one to the next.",
    see: ["breakpoint", "load"],
  },
  {
    id: "build",
    term: "build",
    words:
      "Engine, fuel, parts and place of the job, as they were when the table was made. Steps change parts from there on.",
    own: true,
    see: ["step", "stage"],
  },
  {
    id: "ceiling",
    term: "ceiling",
    words:
      "A limit of a part: what the injectors, the pump, the intake or the controller can give. Cells beyond one are hatched.",
    own: true,
    see: ["duty", "storage"],
  },
  {
    id: "cell",
    term: "cell",
    words: "One value of a table, at one breakpoint of rpm and one of load.",
    see: ["breakpoint", "fuel-table"],
  },
  {
    id: "closed-loop",
    term: "closed-loop trim",
    words:
      "What a controller adds or takes off by itself while it follows a lambda sensor. It hides the table's error, so a log that holds it is corrected by it.",
    see: ["trim", "wideband"],
  },
  {
    id: "deviation",
    term: "standard deviation",
    words:
      "How far a value may be off: in two of three cases by less than this. A correction smaller than its own deviation proves nothing.",
    see: ["evidence"],
  },
  {
    id: "dead-time",
    term: "dead time",
    words:
      "How long an injector takes to open, less how long it takes to close: the part of a pulse that delivers no fuel. It grows as the battery's voltage falls.",
    see: ["pulse-width", "short-pulse"],
  },
  {
    id: "detonation",
    term: "detonation",
    words:
      "The last of the charge burns at once instead of in turn, and hammers the piston. A lean mixture under load invites it; it destroys engines in seconds.",
    see: ["lean"],
  },
  {
    id: "displacement",
    term: "displacement",
    words: "The volume that all pistons sweep in one stroke, in cubic centimetres.",
    see: ["volumetric-efficiency"],
  },
  {
    id: "duty",
    term: "duty cycle",
    words:
      "The share of a cycle for which an injector is open. Plans end at 80 to 85 %; at 100 % it no longer closes and gives what it can, whatever the table says.",
    see: ["ceiling", "static-flow"],
  },
  {
    id: "enrichment",
    term: "enrichment",
    words: "Fuel beyond what the engine would need at rest: under load, while it is cold, or while the throttle opens.",
    see: ["rich", "tip-in", "warm-up"],
  },
  {
    id: "equivalence-ratio",
    term: "equivalence ratio",
    words: "One over lambda: above 1 is rich.",
    see: ["lambda"],
  },
  {
    id: "evidence",
    term: "evidence",
    words:
      "Logs, and what they say of each cell with its doubt. Nothing of it is applied until you ask for it, as a step.",
    own: true,
    see: ["gate", "deviation", "wideband"],
  },
  {
    id: "first-guess",
    term: "first guess",
    words:
      "A figure that was computed or drawn and not measured. Its cells stay underlined until evidence has corrected them.",
    own: true,
    see: ["evidence"],
  },
  {
    id: "fuel-cut",
    term: "fuel cut",
    words:
      "The controller injects nothing, as when the throttle is shut at speed. The sensor then sees air, and such readings are left out.",
    see: ["gate"],
  },
  {
    id: "fuel-film",
    term: "fuel film",
    words:
      "Fuel that lies on the walls of the intake. A part of each injection joins it and a part of it leaves with each cycle, so that mixture lags behind when the throttle moves.",
    see: ["tip-in"],
  },
  {
    id: "fuel-mass",
    term: "fuel mass",
    words: "The mass of fuel for one cylinder and one cycle, in milligrams.",
    see: ["pulse-width"],
  },
  {
    id: "fuel-table",
    term: "fuel table",
    words:
      "How much fuel the controller gives at each rpm and load: as pulse widths, masses, volumetric efficiencies, or percent trims of another controller's pulses.",
    see: ["cell", "target-table", "trim"],
  },
  {
    id: "gate",
    term: "gate",
    words:
      "A rule that leaves readings of a log out: a cold engine, a fuel cut, a sensor at its stop. A gate only ever removes.",
    own: true,
    see: ["evidence"],
  },
  {
    id: "in-line-unit",
    term: "in-line unit",
    words: "A box between controller and injectors that lengthens or shortens the factory's pulses by a percentage.",
    see: ["trim"],
  },
  {
    id: "job",
    term: "job",
    words:
      "The whole document: build, tables as they were brought in, steps in order, evidence, colours. It is kept on this machine and goes into one file.",
    own: true,
    see: ["step", "build"],
  },
  {
    id: "lag",
    term: "delay and lag",
    words:
      "Exhaust takes time to reach the sensor, less the more air flows, and the sensor takes time to follow. Both are found from the log itself.",
    see: ["wideband"],
  },
  {
    id: "lambda",
    term: "lambda",
    words:
      "The air there is over the air that the fuel needs to burn: 1 is just enough, below 1 is rich, above 1 is lean, for every fuel.",
    see: ["rich", "lean", "afr"],
  },
  {
    id: "latent-heat",
    term: "latent heat",
    words:
      "The heat that a kilogram of fuel takes up as it evaporates: it cools the charge. Alcohols take two to three times what petrol does.",
  },
  {
    id: "lean",
    term: "lean",
    words: "Less fuel than the air could burn: lambda above 1. Thrifty at cruise, dangerous under load.",
    see: ["detonation", "lambda"],
  },
  {
    id: "load",
    term: "load",
    words:
      "How hard the engine is filled, up the side of a table: by manifold pressure, throttle position or air charge.",
    see: ["map", "throttle-position"],
  },
  {
    id: "lock",
    term: "locked cell",
    words:
      "A cell that later edits leave alone. A change of injectors carries it over all the same: kept milliseconds would be other fuel.",
    own: true,
  },
  {
    id: "manifold",
    term: "manifold",
    words:
      "The passages from the throttle body to the cylinders. With the throttle body it decides how much air passes at full throttle: the tighter of the two most.",
    see: ["throttle-body"],
  },
  {
    id: "map",
    term: "manifold absolute pressure",
    words: "The pressure in the manifold against vacuum: about 30 kPa at idle, near the barometer's at full throttle.",
    see: ["barometric-pressure", "load"],
  },
  {
    id: "planning-ceiling",
    term: "planning ceiling",
    words:
      "The duty that injectors are planned not to pass, 80 to 85 % by common practice: the rest is for heat, low voltage and wear.",
    see: ["duty"],
  },
  {
    id: "pulse-width",
    term: "pulse width",
    words: "How long the controller holds an injector open in one injection, in milliseconds, dead time included.",
    see: ["dead-time", "duty"],
  },
  {
    id: "fuel-pump",
    term: "fuel pump",
    words:
      "Has to give what the engine burns at the rail's pressure and the losses before it. The more pressure, the less it gives; when it falls short, every cell goes lean.",
    see: ["rail-pressure", "ceiling"],
  },
  {
    id: "rail-pressure",
    term: "rail pressure",
    words:
      "The pressure of fuel before the injectors, above outside air or above the manifold's, as the regulator has it.",
    see: ["regulator"],
  },
  {
    id: "rebin",
    term: "other breakpoints (rebin)",
    words:
      "The same surface told at other rpm and loads. Where there are fewer of them, it is fitted so that as little as possible is lost.",
    see: ["breakpoint"],
  },
  {
    id: "region",
    term: "region",
    words:
      "Where a step works, said in rpm and load, so that it still means the same with other breakpoints. A soft edge lets it fade out.",
    own: true,
    see: ["step"],
  },
  {
    id: "regulator",
    term: "regulator",
    words:
      "Holds the rail's pressure. Manifold-referenced: over the manifold's, so that the injectors always see the same. Fixed, in the tank: over outside air, so that they see less under load.",
    see: ["rail-pressure"],
  },
  {
    id: "rich",
    term: "rich",
    words:
      "More fuel than the air can burn: lambda below 1. Cooler and safer under load, thirsty and sooty beyond need.",
    see: ["lambda"],
  },
  {
    id: "rpm",
    term: "rpm",
    words: "Revolutions of the crankshaft in a minute.",
  },
  {
    id: "scheme",
    term: "scheme",
    words: "The colours in which change is shown: two ends and a middle, chosen by you. Unchanged cells stay paper.",
    own: true,
  },
  {
    id: "short-pulse",
    term: "smallest repeatable pulse",
    words:
      "The shortest pulse at which an injector gives the same each time. Below it idle hunts, whatever the table says.",
    see: ["dead-time"],
  },
  {
    id: "slice",
    term: "slice",
    words: "One row or column of the table as a line, beside and under the grid: dashed as it was.",
    own: true,
  },
  {
    id: "smoothing",
    term: "smoothing",
    words:
      "Takes bumps out of a table and leaves slopes as they are. The stronger, the stiffer the sheet that is laid through the cells.",
  },
  {
    id: "stage",
    term: "stage",
    words: "A set of parts that is considered beside the build, with what it would ask of everything else.",
    own: true,
    see: ["build"],
  },
  {
    id: "static-flow",
    term: "static flow",
    words: "What an injector gives when it is held open, at a stated pressure and with a stated fluid.",
    see: ["duty"],
  },
  {
    id: "step",
    term: "step",
    words:
      "One change, kept with its settings and its reason. It can be reopened, changed, switched off and moved; all later ones follow.",
    own: true,
    see: ["job", "region"],
  },
  {
    id: "stoichiometric",
    term: "stoichiometric ratio",
    words: "Kilograms of air that burn a kilogram of fuel with nothing left over: lambda 1.",
    see: ["lambda", "afr"],
  },
  {
    id: "storage",
    term: "storage",
    words:
      "The range and the step in which a controller can hold a cell. Cells are computed in full and rounded to it at the end, or by a step.",
    see: ["ceiling"],
  },
  {
    id: "target-table",
    term: "target table",
    words: "The mixture wished for at each rpm and load, as lambda.",
    see: ["lambda", "fuel-table"],
  },
  {
    id: "throttle-body",
    term: "throttle body",
    words: "The bore with the plate that the rider opens. A larger one gains little before a narrow manifold.",
    see: ["manifold"],
  },
  {
    id: "throttle-position",
    term: "throttle position",
    words: "How far the throttle plate is open, in percent.",
    see: ["load"],
  },
  {
    id: "tip-in",
    term: "tip-in",
    words:
      "The throttle opens: more air is there at once, more fuel only once the film on the walls has grown. Enrichment bridges it.",
    see: ["fuel-film", "enrichment"],
  },
  {
    id: "trim",
    term: "trim",
    words: "A percentage added to or taken off another controller's pulse, or off the table's own fuel.",
    see: ["in-line-unit"],
  },
  {
    id: "volumetric-efficiency",
    term: "volumetric efficiency",
    words:
      "The air that a cylinder draws over what would fill its displacement at the pressure and temperature in the manifold, in percent.",
    see: ["air-charge", "displacement"],
  },
  {
    id: "warm-up",
    term: "warm-up",
    words: "While the engine is cold less of the fuel evaporates: more is given, the less the warmer it gets.",
    see: ["enrichment"],
  },
  {
    id: "wideband",
    term: "wideband",
    words:
      "A sensor in the exhaust that tells lambda over a wide range. Near the ends of its range it no longer tells rich from richer.",
    see: ["lambda", "lag"],
  },
];

/** Every term, in the order of the alphabet. */
export const terms: readonly Term[] = all.toSorted((a, b) => a.term.localeCompare(b.term, "en"));

/** Terms whose name or words hold the words looked for; all of them where nothing is. */
export function findTerms(sought: string): readonly Term[] {
  const word = sought.trim().toLowerCase();
  if (word === "") return terms;
  const named = terms.filter(({ term }) => term.toLowerCase().includes(word));
  const told = terms.filter((one) => !named.includes(one) && one.words.toLowerCase().includes(word));
  return [...named, ...told];
}
