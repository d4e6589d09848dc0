/** Every operation is named in two words at least, but for `lookup`. */
const operation = /(^|: )(?:lookup|[a-z]+[A-Z]\w*): /g;

/**
 * A refusal of the library without the names of the operations that made it: they tell a program where to look, and a
 * person nothing. Paths stay as they are.
 *
 * @example plainRefusal("readJob: format must be …") // "Format must be …"
 * @example plainRefusal("job.tables[0]: createAxis: rpm must …") // "job.tables[0]: rpm must …"
 */
export function plainRefusal(sentence: string): string {
  const plain = sentence.replace(operation, "$1");
  return /^[a-z]+[ ,:]/.test(plain) ? plain.charAt(0).toUpperCase() + plain.slice(1) : plain;
}
