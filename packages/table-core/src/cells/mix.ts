/**
 * a · (1 − w) + b · w, never outside a and b, for finite a and b and w in 0..1.
 *
 * Exactly a at w = 0, exactly b at w = 1, exactly a where a equals b, and bit for bit the same as `mix(b, a, 1 − w)`.
 * The last holds because the two weights are always the pair that has its larger member rounded: subtracting a number
 * from ½ to 1 from 1 is exact (Sterbenz 1974), so both ways of saying a mix give one pair. It moves w by at most 2⁻⁵⁴.
 */
export function mix(a: number, b: number, w: number): number {
  const ofA = 1 - w;
  const ofB = w < 0.5 ? 1 - ofA : w;
  if (ofB === 0) return a;
  if (ofA === 0) return b;
  // The products round, so the sum may miss by an ulp what lies between the two.
  return Math.min(Math.max(a * ofA + b * ofB, Math.min(a, b)), Math.max(a, b));
}
