/** How a changed cell is coloured; a fall is negative, a change from zero infinite. Null: not coloured. */
export type Tint = (percent: number) => { readonly fill: string; readonly ink: string } | null;

/** None: sign and weight alone tell a change, which survives any printer. */
export const noTint: Tint = () => null;
