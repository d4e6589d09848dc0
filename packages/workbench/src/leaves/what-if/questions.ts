import {
  chargeCooling,
  correctForTemperature,
  createInjector,
  deliveredMass,
  dutyCycle,
  type Fuel,
  type FuelFilm,
  flameTemperature,
  fuels,
  massFlow,
  mixtureOptima,
  mixtureResponse,
  pulseWidth,
  raiseDemand,
  readMixture,
  throttleTransient,
  typicalFilms,
} from "@fuelwright/table-core";
import { figure, percentChange } from "../../store/display.ts";
import { lambdas } from "./curves.ts";
import { sayLambda, seconds } from "./say.ts";
import type { Scene } from "./trial.ts";

/** What the library says to a question. */
export interface Answer {
  /** Which of the choices is right. */
  readonly right: number;
  readonly because: string;
}

/** A small question with an answer that is worked out at the learner's own point, never kept. */
export interface Question {
  readonly id: string;
  readonly ask: (scene: Scene) => string;
  readonly choices: readonly string[];
  readonly answer: (scene: Scene) => Answer;
}

/** The choice nearest to a figure. */
const nearest = (value: number, choices: readonly number[]) =>
  choices.reduce((best, choice, at) => (Math.abs(choice - value) < Math.abs(choices[best]! - value) ? at : best), 0);

/** The choice for less, the same, more. */
const side = (difference: number, equal: number) => (Math.abs(difference) <= equal ? 1 : difference < 0 ? 0 : 2);

const change = (from: number, to: number) => percentChange(from, to);

/** A step of the throttle from light to high load at the learner's speed. */
function tipIn(scene: Scene, film: FuelFilm) {
  const { load } = scene;
  return throttleTransient({
    airBeforeGramsPerSecond: scene.at({ load: load.from + 0.15 * (load.to - load.from) }).airGramsPerSecond,
    airAfterGramsPerSecond: scene.at({ load: load.from + 0.9 * (load.to - load.from) }).airGramsPerSecond,
    lambda: scene.own.targetLambda,
    fuel: scene.fuel,
    film,
    lastsS: 6,
  });
}

/** The injectors of the job at the learner's point. */
function atInjector({ build, own }: Scene) {
  return {
    volts: build.battery.volts,
    pressureKpa: own.pressureKpa,
    densityKgPerL: build.fuel.densityKgPerL,
  };
}

const twice = ({ build }: Scene) =>
  createInjector({ ...build.injectors, flowGramsPerSecond: 2 * build.injectors.flowGramsPerSecond });

const hottest = (fuel: Fuel) =>
  lambdas.reduce(
    (best, lambda) => {
      const { temperatureK } = flameTemperature({ fuel, lambda });
      return temperatureK > best.temperatureK ? { lambda, temperatureK } : best;
    },
    { lambda: 1, temperatureK: 0 },
  );

export const questions: readonly Question[] = [
  {
    id: "hottest-flame",
    ask: () => "At which mixture is the flame of petrol hottest?",
    choices: ["a little rich", "exactly at lambda 1", "a little lean"],
    answer: (scene) => {
      const { lambda, temperatureK } = hottest(fuels.petrol);
      const atOne = flameTemperature({ fuel: fuels.petrol, lambda: 1 }).temperatureK;
      return {
        right: side(lambda - 1, 0.004),
        because: `At ${sayLambda(lambda, { ...scene, fuel: fuels.petrol })} it is ${figure(temperatureK - atOne, 0)} K hotter than at lambda 1: the hot gas falls apart a little, and the oxygen set free finds fuel.`,
      };
    },
  },
  {
    id: "cooling-fuel",
    ask: () => "Which fuel cools the charge most when it evaporates, at lambda 1?",
    choices: ["petrol", "E85", "methanol"],
    answer: () => {
      const drops = [fuels.petrol, fuels.E85, fuels.methanol].map((fuel) => chargeCooling({ fuel, lambda: 1 }).dropK);
      return {
        right: drops.indexOf(Math.max(...drops)),
        because: `If all of it evaporated in the air: petrol ${figure(drops[0]!, 0)} K, E85 ${figure(drops[1]!, 0)} K, methanol ${figure(drops[2]!, 0)} K. Cold air holds too little vapour for the last two to get that far.`,
      };
    },
  },
  {
    id: "power-peak",
    ask: () => "Where does a typical engine make most power?",
    choices: ["rich of lambda 1", "at lambda 1", "lean of lambda 1"],
    answer: (scene) => ({
      right: side(mixtureOptima.power - 1, 0.01),
      because: `At ${sayLambda(mixtureOptima.power, scene)} on the typical curve; at lambda 1 there is ${figure(mixtureResponse(1).powerPercent, 0)} % of it.`,
    }),
  },
  {
    id: "price-of-power",
    ask: () => "How much more fuel for the same work does the mixture of most power need than the thriftiest?",
    choices: ["about 2 %", "about 12 %", "about 40 %"],
    answer: () => {
      const more = mixtureResponse(mixtureOptima.power).consumptionPercent - 100;
      return { right: nearest(more, [2, 12, 40]), because: `${figure(more, 1)} % on the typical curve.` };
    },
  },
  {
    id: "larger-injector",
    ask: () => "Injectors of twice the flow go in, and the controller is told so. How much fuel does a cell get?",
    choices: ["less", "the same", "more"],
    answer: (scene) => {
      const { own, build } = scene;
      const { chosen } = raiseDemand({
        build: { ...build, injectors: twice(scene) },
        rpm: own.rpm,
        pressureKpa: own.pressureKpa,
        massMg: own.askedMg,
        lambda: own.targetLambda,
      });
      return {
        right: side(chosen.deliveredMg - own.askedMg, 1e-6 * own.askedMg),
        because: `${figure(chosen.deliveredMg, 1)} mg as before, at ${figure(100 * chosen.duty, 0)} % duty instead of ${figure(100 * own.duty, 0)} %. A larger injector alone adds headroom, not fuel.`,
      };
    },
  },
  {
    id: "half-the-pulse",
    ask: () => "And its pulse, for the same fuel: is it half as long?",
    choices: ["shorter than half", "exactly half", "longer than half"],
    answer: (scene) => {
      const { own, build } = scene;
      const after = pulseWidth(twice(scene), {
        ...atInjector(scene),
        massMg: own.askedMg / (build.engine.injectorsPerCylinder ?? 1),
        injectionsPerCycle: build.engine.injectionsPerCycle,
      });
      return {
        right: side(after - own.pulseMs / 2, 1e-6),
        because: `${figure(own.pulseMs, 2)} ms becomes ${figure(after, 2)} ms, ${figure((100 * after) / own.pulseMs, 0)} % of it: the dead time does not shrink with the flow.`,
      };
    },
  },
  {
    id: "low-battery",
    ask: () => "The battery falls by 2 V and the pulse stays as it was. The engine gets …",
    choices: ["less fuel", "the same", "more fuel"],
    answer: (scene) => {
      const { build, own } = scene;
      const pulse = { ...atInjector(scene), pulseMs: own.pulseMs };
      const full = deliveredMass(build.injectors, pulse);
      const low = deliveredMass(build.injectors, { ...pulse, volts: build.battery.volts - 2 });
      return {
        right: side(low - full, 1e-9),
        because:
          low === full
            ? "The job gives these injectors one dead time for all voltages, so nothing changes here. Real ones open more slowly: give it over voltage on the Build leaf."
            : `${change(full, low)}: the injector opens more slowly, and more of the pulse is lost. Controllers add the difference.`,
      };
    },
  },
  {
    id: "more-pressure",
    ask: () => "The pressure across an injector is doubled. Its flow rises by …",
    choices: ["about 20 %", "about 40 %", "100 %"],
    answer: (scene) => {
      const conditions = atInjector(scene);
      const before = massFlow(scene.build.injectors, conditions);
      const after = massFlow(scene.build.injectors, { ...conditions, pressureKpa: 2 * conditions.pressureKpa });
      return {
        right: nearest(100 * (after / before - 1), [20, 40, 100]),
        because: `${change(before, after)}: flow goes with the square root of pressure.`,
      };
    },
  },
  {
    id: "twice-the-speed",
    ask: () => "Twice the engine speed, the same pulse. Duty …",
    choices: ["stays", "rises by half", "doubles"],
    answer: ({ own }) => {
      const at = (rpm: number) => dutyCycle({ pulseMs: own.pulseMs, rpm });
      return {
        right: nearest(at(2 * own.rpm) / at(own.rpm), [1, 1.5, 2]),
        because: `At your point ${figure(100 * at(own.rpm), 0)} % becomes ${figure(100 * at(2 * own.rpm), 0)} %${at(2 * own.rpm) >= 1 ? ": more than there is" : ""}. The cycle takes half the time.`,
      };
    },
  },
  {
    id: "tip-in",
    ask: () => "The throttle snaps open, with no enrichment. In the cylinder it first gets …",
    choices: ["rich", "neither", "lean"],
    answer: (scene) => {
      const run = tipIn(scene, typicalFilms.warm);
      const lambda = scene.own.targetLambda;
      const lean = run.leanest.lambda / lambda - 1;
      const rich = 1 - run.richest.lambda / lambda;
      return {
        right: side(lean - rich, 0.005),
        because: `At the worst moment ${sayLambda(run.leanest.lambda, scene)}, asked for ${sayLambda(lambda, scene)}: part of the added fuel wets the walls first.`,
      };
    },
  },
  {
    id: "cold-walls",
    ask: () => "The same with cold walls: how long is the mixture lean by more than 5 %?",
    choices: ["shorter", "as long", "longer"],
    answer: (scene) => {
      const warm = tipIn(scene, typicalFilms.warm).leanForS;
      const cold = tipIn(scene, typicalFilms.cold).leanForS;
      return {
        right: side(cold - warm, 0.02),
        because: `${seconds(cold)} against ${seconds(warm)}: more fuel lands on cold walls, and it stays longer.`,
      };
    },
  },
  {
    id: "what-the-sensor-sees",
    ask: () => "How much of that lean spike does a wideband show?",
    choices: ["less than there is", "all of it", "more than there is"],
    answer: (scene) => {
      const run = tipIn(scene, typicalFilms.warm);
      return {
        right: side(run.shownLeanest - run.leanest.lambda, 0.002),
        because: `In the cylinder ${sayLambda(run.leanest.lambda, scene)}, on the sensor ${sayLambda(run.shownLeanest, scene)}: its lag smooths what is short.`,
      };
    },
  },
  {
    id: "frost",
    ask: ({ build }) =>
      `A table that is right at ${figure(build.place.temperatureC, 0)} °C, at −5 °C and with no air-temperature correction, runs …`,
    choices: ["richer", "the same", "leaner"],
    answer: (scene) => {
      const { own, build } = scene;
      const fuel = correctForTemperature({
        massMg: own.askedMg,
        lambda: own.targetLambda,
        tunedAtC: build.place.temperatureC,
        airC: -5,
        coolantC: 85,
      });
      return {
        right: side(fuel.lambda - own.targetLambda, 0.001),
        because: `It runs at ${sayLambda(fuel.lambda, scene)} instead of ${sayLambda(own.targetLambda, scene)}: the air is denser, ${change(1, fuel.airFactor)}, and the fuel is not.`,
      };
    },
  },
  {
    id: "ethanol",
    ask: () => "An engine goes from petrol to ethanol at the same lambda. By mass it needs …",
    choices: ["about 10 % more fuel", "about 60 % more", "three times as much"],
    answer: (scene) => {
      const { own, at } = scene;
      const petrol = at({ fuel: fuels.petrol, lambda: own.targetLambda }).askedMg;
      const ethanol = at({ fuel: fuels.ethanol, lambda: own.targetLambda }).askedMg;
      return {
        right: nearest(ethanol / petrol, [1.1, 1.6, 3]),
        because: `${change(petrol, ethanol)}, ${figure(ethanol, 1)} mg instead of ${figure(petrol, 1)} mg a cycle at your point: ethanol brings oxygen of its own and needs less air.`,
      };
    },
  },
  {
    id: "ratio-on-ethanol",
    ask: () =>
      "A gauge that knows only petrol shows 14.6 : 1 and the tank holds ethanol. If that really were the ratio by mass, it would be …",
    choices: ["rich", "about right", "lean"],
    answer: () => {
      const lambda = readMixture(14.6, "afr", fuels.ethanol);
      return {
        right: side(lambda - 1, 0.03),
        because: `Lambda ${figure(lambda, 2)}: ethanol burns ${figure(fuels.ethanol.stoichiometricRatio, 1)} : 1. Think in lambda when fuels change.`,
      };
    },
  },
  {
    id: "beyond-static",
    ask: () =>
      "An injector no longer closes, and the engine asks for a fifth more than it can give. The cylinder gets …",
    choices: ["what is commanded", "10 % leaner", "20 % leaner"],
    answer: (scene) => {
      const { build, own } = scene;
      const settings = {
        build,
        rpm: own.rpm,
        pressureKpa: own.pressureKpa,
        massMg: own.askedMg,
        lambda: own.targetLambda,
        highest: 20,
      };
      const { leanFrom } = raiseDemand(settings);
      const { chosen } = raiseDemand({ ...settings, at: Math.min(20, 1.2 * (leanFrom ?? 10)) });
      const leaner = 100 * (chosen.deliveredLambda / own.targetLambda - 1);
      return {
        right: nearest(leaner, [0, 10, 20]),
        because: `Commanded stays ${sayLambda(own.targetLambda, scene)}, what arrives is ${sayLambda(chosen.deliveredLambda, scene)}. Under load that melts pistons.`,
      };
    },
  },
];
