/**
 * SVG path through points in px; a point that can't be shown leaves a gap.
 *
 * Where many points fall in one column of the screen only its first, lowest, highest and last are kept: what is drawn
 * is the same, and an hour of log stays as light as a minute. O(points).
 *
 * @param steps - each value is held until the next point
 */
export function linePath(count: number, x: (at: number) => number, y: (at: number) => number, steps = false): string {
  let path = "";
  let pen = "M";
  let lastY = Number.NaN;
  const put = (px: number, py: number) => {
    if (steps && pen === "L") path += `L${round(px)},${round(lastY)}`;
    path += `${pen}${round(px)},${round(py)}`;
    pen = "L";
    lastY = py;
  };
  let at = 0;
  while (at < count) {
    if (!drawn(x(at), y(at))) {
      pen = "M";
      at++;
      continue;
    }
    const column = Math.floor(x(at));
    let end = at;
    let low = at;
    let high = at;
    while (end + 1 < count && drawn(x(end + 1), y(end + 1)) && Math.floor(x(end + 1)) === column) {
      end++;
      if (y(end) < y(low)) low = end;
      if (y(end) > y(high)) high = end;
    }
    if (end - at < 4) for (let i = at; i <= end; i++) put(x(i), y(i));
    else {
      const [one, other] = low < high ? [low, high] : [high, low];
      for (const i of new Set([at, one, other, end])) put(x(i), y(i));
    }
    at = end + 1;
  }
  return path;
}

const drawn = (px: number, py: number) => Number.isFinite(px) && Number.isFinite(py);
const round = (px: number) => Math.round(px * 10) / 10;
