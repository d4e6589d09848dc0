/**
 * The air flow at which the flow-dependent part of the delay is said: a mid-range cruise.
 *
 * Flow is taken as proportional to rpm and manifold pressure; where a log has none, to rpm and pulse, or to rpm alone.
 */
export const flowReference = { rpm: 3000, pressure: 60, airFlow: 15, pulse: 4 } as const;
