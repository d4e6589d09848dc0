/** What was taken from a text, why, and what else it could be: enough to show it and put it right. */
export interface Recognised<T> {
  readonly value: T;
  /** One plain sentence. */
  readonly reason: string;
  /** The other values that can be chosen instead. */
  readonly alternatives: readonly T[];
  /** Whether the text says so or leaves no choice; false: a guess that a person should look at. */
  readonly sure: boolean;
}

/** A frozen {@link Recognised}; the value itself is left out of the alternatives. */
export function recognised<T>(value: T, sure: boolean, reason: string, choices: readonly T[] = []): Recognised<T> {
  const alternatives = Object.freeze(choices.filter((choice) => choice !== value));
  return Object.freeze({ value, reason, alternatives, sure });
}

/** A {@link Recognised} that somebody has set right by hand. */
export const chosen = <T>(value: T, choices: readonly T[] = []) =>
  recognised(value, true, "You have chosen this.", choices);
