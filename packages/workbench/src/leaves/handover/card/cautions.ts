import { points, type Section } from "./blocks.ts";

const cautions: readonly string[] = [
  "A lean mixture under load detonates and destroys engines, within seconds.",
  "Petrol vapour burns, and so does its flame on spilt fuel. Release the pressure before a fuel line is opened; ventilate; keep sparks away.",
  "A first start after a change of parts is made cold, by a competent person, with a wideband sensor and an extinguisher.",
  "Logs are recorded by a passenger, on a dyno, or by a logger that needs no eyes: never by the rider's own.",
  "Every cell is a calculation until a log has proved it; what is assumed, estimated or a first guess says so on this card.",
  "This card covers the fuel side alone. Ignition, cooling, brakes and everything else that more power asks for are not looked at.",
  "Emissions and noise law is local and comes first; so do local codes and licensed practice.",
];

/** The usual cautions of this work. */
export const cautionsSection = (): Section => ({
  id: "cautions",
  title: "Cautions",
  blocks: [points(cautions.map((text) => ({ text })))],
});
