/** What is wrong with an expression, and at which character (from 0). */
export interface ExpressionFault {
  readonly message: string;
  /** The character, from 0. */
  readonly at: number;
}

/** Carries a fault out of the parser; never leaves this folder. */
export class ExpressionError extends Error {
  readonly at: number;

  constructor(message: string, at: number) {
    super(message);
    this.at = at;
  }

  get fault(): ExpressionFault {
    return { message: this.message, at: this.at };
  }
}
