import type { Ceiling, CellNote, PartVerdict, Verdict } from "@fuelwright/table-core";
import { figure } from "../../store/display.ts";

/** The limits behind a verdict that gives out; others are met before that, or by the way. */
const endings = new Set<Ceiling["kind"]>(["static", "pump-short", "outside-storage"]);

/** What a verdict says in a few words, and the cells it comes from. */
export interface SaidVerdict {
  readonly kind: Verdict;
  readonly words: string;
  readonly cells: readonly CellNote[];
}

/** A part's verdict in words: "in hand, 26 %", "at its limit", "gives out from 5,500 rpm". */
export function sayVerdict(part: PartVerdict, ceilings: readonly Ceiling[]): SaidVerdict {
  const mine = ceilings.filter((ceiling) => ceiling.part === part.part);
  const ending = mine.filter(({ kind }) => endings.has(kind)).flatMap(({ cells }) => cells);
  const met = ending.length > 0 ? ending : mine.flatMap(({ cells }) => cells);
  const cells = met.length > 0 ? met : part.worst ? [part.worst] : [];
  return { kind: part.verdict, words: wordsOf(part, ending), cells };
}

function wordsOf({ verdict, inHandPercent }: PartVerdict, ending: readonly CellNote[]): string {
  const hand = inHandPercent === null ? "" : `${figure(Math.abs(inHandPercent), 0)} %`;
  switch (verdict) {
    case "in-hand":
      return hand ? `in hand, ${hand}` : "in hand";
    case "at-limit":
      return inHandPercent !== null && inHandPercent > 0 ? `at its limit, ${hand} in hand` : "at its limit";
    case "gives-out":
      return ending.length > 0
        ? `gives out from ${figure(Math.min(...ending.map(({ rpm }) => rpm)), 0)} rpm`
        : "gives out";
    default:
      return "not known";
  }
}
