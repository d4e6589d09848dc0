import { ExpressionError } from "./expression-fault.ts";
import { AMBIGUOUS, functions, type Slots } from "./expression-names.ts";

/** Longer expressions, and deeper brackets, are refused: what is left is parsed and run in bounded time. */
export const LONGEST_EXPRESSION = 500;
const MOST_WORDS = 200;
const DEEPEST_BRACKETS = 32;

/** Signs that people type or paste for the ones that the parser knows, character for character. */
const otherSigns: Readonly<Record<string, string>> = { "×": "*", "·": "*", "÷": "/", "−": "-" };

/** What to say about characters that have no place in an expression. */
const refused: readonly (readonly [RegExp, string])[] = [
  [/["'`]/, "text cannot be used; write numbers"],
  [/[[\]{}]/, "such brackets have no place here; use round ones, ( )"],
  [/[;\n\r]/, "an expression ends with its line; write one expression on one line"],
  [/=/, "nothing can be assigned here; write == to compare"],
  [/!/, "! has no place here; write not in front of it, or != for unequal"],
  [/&/, "& has no place here; write and"],
  [/\|/, "| has no place here; write or"],
  [/\./, "a point stands in a number only; write a digit after it"],
];

interface Token {
  readonly kind: "number" | "name" | "sign";
  readonly text: string;
  readonly at: number;
}

/**
 * Checks an expression word by word before the parser sees it, and gives it back with unusual signs replaced.
 *
 * Only numbers, known names, round brackets and the signs of arithmetic, comparison and choice pass, in an order that
 * makes sense: no text, members, lists, objects, assignments or definitions. So each mistake is found where it is. It is
 * stricter than the parser where that would guess: two values in a row are not multiplied, `%` makes a percentage and
 * never a remainder, and a choice within a choice needs brackets. O(characters).
 *
 * @param names - the variables, by name
 * @throws ExpressionError at the first character that has no place
 */
export function scanExpression(text: string, names: Slots): string {
  if (text.length > LONGEST_EXPRESSION)
    fail(`it can have ${LONGEST_EXPRESSION} characters at most, it has ${text.length}; shorten it`, LONGEST_EXPRESSION);
  const plain = text.replace(/[×·÷−]/g, (sign) => otherSigns[sign]!);
  const tokens = tokensOf(plain);
  if (tokens.length > MOST_WORDS)
    fail(`it can have ${MOST_WORDS} numbers, names and signs at most; split it over two steps`, tokens[MOST_WORDS]!.at);
  const order = new Order(plain.length);
  tokens.forEach((token, i) => {
    const next = tokens[i + 1];
    if (token.kind === "number") order.value(token);
    else if (token.text === "(") order.open(token);
    else if (token.kind === "sign") order.sign(token, next);
    else if (token.text === "not") order.prefix(token);
    else if (wordBetween(token, order.afterValue)) order.between(token);
    else if (functions.has(token.text)) {
      if (next?.text !== "(") fail(`${token.text} is a function; write ${token.text}( )`, token.at);
      order.call(token);
    } else {
      if (!names.has(token.text))
        fail(`${token.text} is not known here; there are ${[...names.keys()].join(", ")}`, token.at);
      if (names.get(token.text) === AMBIGUOUS) fail(`${token.text} could be more than one table; rename one`, token.at);
      if (next?.text === "(") fail(`${token.text} is not a function; write * before the bracket`, next.at);
      order.value(token);
    }
  });
  order.end();
  return plain;
}

/** `mod` stands between two values, or is called as a function. */
const wordBetween = ({ text }: Token, afterValue: boolean) =>
  text === "and" || text === "or" || text === "xor" || (text === "mod" && afterValue);

function tokensOf(text: string): Token[] {
  const pattern =
    /[ \t\u00A0]+|((?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?)|([A-Za-z_][A-Za-z0-9_]*)|([<>=!]=|[-+*/^%?:(),<>])/y;
  const tokens: Token[] = [];
  while (pattern.lastIndex < text.length) {
    const at = pattern.lastIndex;
    const found = pattern.exec(text);
    if (!found) {
      const sign = String.fromCodePoint(text.codePointAt(at)!);
      return fail(
        refused.find(([rule]) => rule.test(sign))?.[1] ?? `${JSON.stringify(sign)} has no place here; take it out`,
        at,
      );
    }
    const [whole, number, name] = found;
    if (number) tokens.push({ kind: "number", text: number, at });
    else if (name) tokens.push({ kind: "name", text: name, at });
    else if (whole.trim()) tokens.push({ kind: "sign", text: whole, at });
  }
  return tokens;
}

/** What may follow a percentage without being taken for the second part of a remainder. */
const afterPercent = new Set([")", ",", "*", "/", "?", ":", "<", ">", "<=", ">=", "==", "!="]);

interface Bracket {
  readonly at: number;
  /** The function that it belongs to. */
  readonly call: Token | null;
  commas: number;
  /** Where a choice waits for its colon. */
  choice: number | null;
}

/** Follows whether a value or an operator is due, through brackets, calls and choices. */
class Order {
  /** Whether the last thing was a value, so that an operator or the end is due. */
  afterValue = false;
  private called: Token | null = null;
  private readonly brackets: Bracket[] = [{ at: 0, call: null, commas: 0, choice: null }];
  private readonly length: number;

  constructor(length: number) {
    this.length = length;
  }

  value({ at }: Token): void {
    this.prefix({ at });
    this.afterValue = true;
  }

  prefix({ at }: Pick<Token, "at">): void {
    if (this.afterValue) fail("a sign is missing before this; write one such as * or +", at);
  }

  between({ text, at }: Token): void {
    if (!this.afterValue) fail(`a number or a name is missing before ${text}; write one, or take ${text} out`, at);
    this.afterValue = false;
  }

  call(name: Token): void {
    this.prefix(name);
    this.called = name;
  }

  open({ at }: Token): void {
    if (!this.called) this.prefix({ at });
    if (this.brackets.length > DEEPEST_BRACKETS)
      fail(`brackets can be ${DEEPEST_BRACKETS} deep at most; split it over two steps`, at);
    this.brackets.push({ at, call: this.called, commas: 0, choice: null });
    this.called = null;
  }

  sign(token: Token, next: Token | undefined): void {
    const { text, at } = token;
    if ((text === "+" || text === "-") && !this.afterValue) return;
    if (text === ")" && this.brackets.length === 1) fail("this bracket was never opened; take it out", at);
    this.between(token);
    const bracket = this.brackets[this.brackets.length - 1]!;
    if (text === ")") this.close(bracket);
    else if (text === ",") {
      if (!bracket.call) fail("a comma stands between the values of a function only; decimals have a point", at);
      this.settle(bracket);
      bracket.commas++;
    } else if (text === "?") {
      if (bracket.choice !== null) fail("one choice stands within another; put brackets round the inner one", at);
      bracket.choice = at;
    } else if (text === ":") {
      if (bracket.choice === null) fail("a colon belongs to a choice; write condition ? one : other", at);
      bracket.choice = null;
    } else if (text === "%") {
      if (next && !afterPercent.has(next.text)) fail("% makes a percentage; put brackets round it, as in (5%)", at);
      this.afterValue = true;
    }
  }

  end(): void {
    const open = this.brackets[this.brackets.length - 1]!;
    if (this.brackets.length > 1) fail("this bracket is never closed; write ) where it ends", open.at);
    if (!this.afterValue) fail("a number or a name is missing at the end; write one", this.length);
    this.settle(open);
  }

  private close(bracket: Bracket): void {
    this.settle(bracket);
    if (bracket.call) {
      const { least, most, help } = functions.get(bracket.call.text)!;
      const given = bracket.commas + 1;
      if (given < least || given > most) fail(`${given} values are not what it takes; ${help}`, bracket.call.at);
    }
    this.brackets.pop();
    this.afterValue = true;
  }

  private settle({ choice }: Bracket): void {
    if (choice !== null) fail("this choice has no other part; write condition ? one : other", choice);
  }
}

function fail(message: string, at: number): never {
  throw new ExpressionError(message, at);
}
