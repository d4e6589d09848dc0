import type { ColourScheme } from "@fuelwright/table-core";
import { type ChangeColours, changeColours } from "../../colour/change-colours.ts";
import { resolveSpan, type Span } from "../../colour/resolve-span.ts";
import { themes } from "../../colour/themes.ts";
import { isDark } from "../theme.ts";

/**
 * The colours of the job's scheme over what changed in the table at hand.
 *
 * The same object as long as nothing it hangs on changed, so that the grid does not work out its ramp again.
 */
export class ColoursOf {
  private last: { scheme: ColourScheme; dark: boolean; span: Span; colours: ChangeColours } | null = null;

  of(scheme: ColourScheme, change: Float64Array | null): ChangeColours {
    const dark = isDark();
    const span = resolveSpan(scheme, change ?? []);
    const { last } = this;
    if (last?.scheme === scheme && last.dark === dark && last.span.less === span.less && last.span.more === span.more)
      return last.colours;
    const colours = changeColours(scheme, { span, ...themes[dark ? "dark" : "light"] });
    this.last = { scheme, dark, span, colours };
    return colours;
  }
}
