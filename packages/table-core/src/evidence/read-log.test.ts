import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { encodeText, type LogBytes } from "./log-bytes.ts";
import { type ReadLogOptions, readLog } from "./read-log.ts";
import type { SampleChunk, SampleKey } from "./samples.ts";

async function readAll(source: LogBytes, options: ReadLogOptions = {}) {
  const log = await readLog(source, options);
  const chunks: SampleChunk[] = [];
  for await (const chunk of log.open()) chunks.push(chunk);
  const column = (key: SampleKey) => chunks.flatMap((chunk) => Array.from(chunk.columns[key] ?? []));
  return { log, chunks, column, summary: log.summary(), count: chunks.reduce((sum, chunk) => sum + chunk.count, 0) };
}

const code = (error: string) => expect.objectContaining({ code: error });
const small = "time,rpm,map,lambda\n0,1000,40,1.01\n0.1,1100,42,1.02\n0.2,1200,44,0.99\n";

/** A web stream as far as the reader knows one: getReader and nothing else. */
function streamOf(pieces: (Uint8Array | Error)[]) {
  let at = 0;
  return {
    getReader: () => ({
      async read() {
        const piece = pieces[at++];
        if (piece instanceof Error) throw piece;
        return piece ? { done: false, value: piece } : { done: true };
      },
    }),
  };
}

describe("readLog", () => {
  test("reads a small log, and says what it read", async () => {
    const { column, summary, log } = await readAll(small, { name: "small" });
    expect(column("time")).toEqual([0, 0.1, 0.2]);
    expect(column("rpm")).toEqual([1000, 1100, 1200]);
    expect(column("manifold-pressure")).toEqual([40, 42, 44]);
    expect(column("lambda")).toEqual([1.01, 1.02, 0.99]);
    expect(log.simulated).toBe(false);
    expect(summary).toMatchObject({ complete: true, rows: 3, bytes: small.length, skipped: [] });
    expect(summary.seconds).toBeCloseTo(0.2, 12);
    expect(summary.columns[1]).toMatchObject({ heading: "rpm", low: 1000, high: 1200, samples: 3, unreadable: 0 });
  });

  test.each<[string, string]>([
    ["semicolons and decimal commas", "time;rpm;map;lambda\n0;1000;40;1,01\n0,1;1100;42;1,02\n0,2;1200;44;0,99\n"],
    ["tabs, and lines ending as on other systems", small.replaceAll(",", "\t").replaceAll("\n", "\r\n")],
    ["a byte order mark", `\ufeff${small}`],
    ["comments, empty lines and a title", `# a log\nlogged on Sunday\n\n${small}\n# end\n`],
    ["a unit row", small.replace("\n", "\ns,rpm,kPa,lambda\n")],
    ["quotes", small.replace("time,rpm", '"time","rpm"').replace("1.01", '"1.01"')],
    ["no newline at the end", small.trimEnd()],
    ["a delimiter at the end of each row", small.replaceAll("\n", ",\n").replace("lambda,", "lambda")],
    ["spaces and plus signs", small.replace(",1.02", ", +1.02 ")],
    ["exponents", small.replace("1100", "1.1e3")],
  ])("reads %s", async (_, text) => {
    const { column } = await readAll(text);
    expect(column("time")).toEqual([0, 0.1, 0.2]);
    expect(column("rpm")).toEqual([1000, 1100, 1200]);
    expect(column("lambda")).toEqual([1.01, 1.02, 0.99]);
  });

  test("reads UTF-16 with its mark, and degree signs of old logs", async () => {
    const text = small.replace("map", "map (kPa)");
    const wide = new Uint8Array(2 + 2 * text.length);
    wide.set([0xff, 0xfe]);
    for (let at = 0; at < text.length; at++) wide[2 + 2 * at] = text.charCodeAt(at);
    expect((await readAll(wide)).column("manifold-pressure")).toEqual([40, 42, 44]);
    const latin = Uint8Array.from("time,rpm,clt (\u00b0F)\n0,1000,212\n1,1000,32\n", (c) => c.charCodeAt(0));
    const read = await readAll(latin);
    read.column("coolant-temperature").forEach((value, at) => {
      expect(value).toBeCloseTo([100, 0][at]!, 9);
    });
  });

  test("takes bytes, blobs, web streams, streams of pieces, and functions that open them", async () => {
    const bytes = encodeText(small);
    const iterable = async function* () {
      yield bytes.subarray(0, 30);
      yield bytes.subarray(30);
    };
    for (const source of [
      bytes,
      bytes.slice().buffer as ArrayBuffer,
      new Blob([small]),
      { stream: () => streamOf([bytes]) },
      streamOf([bytes.subarray(0, 11), bytes.subarray(11)]) as unknown as LogBytes,
      iterable(),
      () => iterable(),
      async () => small,
    ] as LogBytes[])
      expect((await readAll(source)).column("rpm")).toEqual([1000, 1100, 1200]);
  });

  test("gives the same samples however the bytes are cut", async () => {
    const rows = Array.from({ length: 60 }, (_, i) => `${i / 50};${1000 + i * 7};${i % 3 === 0 ? 40 + i : ""};0,9${i}`);
    const bytes = encodeText(`# made\ntime;rpm;map;lambda\ns;1/min;kPa;\n${rows.join("\n")}\n`);
    const whole = await readAll(bytes);
    expect(whole.count).toBe(60);
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.integer({ min: 1, max: bytes.length - 1 }), { maxLength: 12 }),
        fc.integer({ min: 16, max: 70 }),
        async (cuts, rowsAChunk) => {
          const places = [0, ...[...new Set(cuts)].sort((a, b) => a - b), bytes.length];
          const pieces = places.slice(1).map((to, at) => bytes.subarray(places[at]!, to));
          const cut = await readAll(() => pieces, { rowsAChunk });
          for (const key of ["time", "rpm", "manifold-pressure", "lambda"] as const)
            expect(cut.column(key)).toEqual(whole.column(key));
        },
      ),
      { numRuns: 60 },
    );
  });

  test("reads numbers as Number does", async () => {
    const numbers = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e12, max: 1e12 }).map(String),
      fc.tuple(fc.integer({ min: -999_999, max: 999_999 }), fc.nat(9_999_999)).map(([a, b]) => `${a}.${b}`),
      fc.tuple(fc.nat(9), fc.nat(99_999)).map(([a, b]) => `-${a}.000${b}`),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(numbers, { minLength: 1, maxLength: 40 }), async (texts) => {
        const log = `time,speed\n${texts.map((text, at) => `${at},${text}`).join("\n")}\n`;
        const { column } = await readAll(log, { columns: { speed: { quantity: "speed", unit: "km/h" } } });
        column("speed").forEach((value, at) => {
          // Fifteen digits are exact; beyond, the slow way is Number itself.
          expect(value).toBe(Number(texts[at]) + 0);
        });
      }),
      { numRuns: 100 },
    );
  });

  test("fills quantities in between their samples, but never lambda", async () => {
    const log = [
      "time,rpm,target lambda,lambda",
      "0.0,1000,0.95,1.00",
      "0.1,,,",
      "0.2,1200,,1.02",
      "0.3,,0.90,",
      "0.4,,,",
      "0.5,1500,,0.98",
    ].join("\n");
    const { column, summary } = await readAll(log);
    const rpm = [1000, 1100, 1200, 1300, 1400, 1500];
    column("rpm").forEach((value, at) => {
      expect(value).toBeCloseTo(rpm[at]!, 9);
    });
    expect(column("lambda-commanded")).toEqual([0.95, 0.95, 0.95, 0.9, 0.9, 0.9]);
    expect(column("lambda")).toEqual([1, Number.NaN, 1.02, Number.NaN, Number.NaN, 0.98]);
    expect(summary.columns.map(({ samples, empty }) => [samples, empty])).toEqual([
      [6, 0],
      [3, 3],
      [2, 4],
      [3, 3],
    ]);
  });

  test("does not fill over more than it may", async () => {
    const { column } = await readAll("time,rpm,map\n0,1000,40\n1,,41\n2,,42\n3,1300,43\n", { fillSeconds: 2 });
    expect(column("rpm")).toEqual([1000, Number.NaN, Number.NaN, 1300]);
  });

  test("guesses units from the numbers where headings say none", async () => {
    const rows = Array.from({ length: 30 }, (_, i) => `${i * 20},${3000 + i},0.9,14.${i},0.${i + 10},2600`);
    const { column, log } = await readAll(`time,rpm,map,afr,tps,pw\n${rows.join("\n")}\n`);
    expect(column("time")[1]).toBeCloseTo(0.02, 12);
    expect(column("manifold-pressure")[0]).toBeCloseTo(90, 9);
    expect(column("lambda")[0]).toBeCloseTo(14 / 14.7, 12);
    expect(column("throttle-position")[0]).toBeCloseTo(10, 9);
    expect(column("pulse-width")[0]).toBeCloseTo(2.6, 9);
    expect(log.columns.map(({ unitFrom }) => unitFrom)).toEqual([
      "numbers",
      "usual",
      "numbers",
      "said",
      "numbers",
      "numbers",
    ]);
  });

  test("reads times of day, over midnight", async () => {
    const { column } = await readAll("time,rpm\n2031-05-04 23:59:59.5,1000\n2031-05-05 00:00:00.25,1010\n");
    expect(column("time")[1]! - column("time")[0]!).toBeCloseTo(0.75, 9);
  });

  test("lets columns be put right by hand", async () => {
    const text = "t0,a,b,rpm\n0,14.7,40,1000\n1,13.2,41,1000\n";
    const { column, log } = await readAll(text, {
      columns: { t0: { quantity: "time" }, a: { quantity: "lambda", channel: 2, unit: "AFR" }, 3: null },
    });
    expect(column("lambda-2")[0]).toBeCloseTo(1, 12);
    expect(log.columns.map(({ quantity }) => quantity)).toEqual(["time", "lambda", null, null]);
    await expect(readLog(text, { columns: { t0: { quantity: "time", channel: 2 } } })).rejects.toEqual(
      code("out-of-range"),
    );
    await expect(readLog(text, { columns: { zz: null } })).rejects.toEqual(code("log-column"));
    await expect(readLog(text, { columns: { a: { quantity: "rpm", unit: "kPa" } } })).rejects.toEqual(
      code("log-column"),
    );
  });

  test("needs no time column if told how many rows a second there are", async () => {
    const text = "rpm,map\n1000,40\n1100,41\n1200,42\n";
    await expect(readLog(text)).rejects.toEqual(code("log-no-time"));
    expect((await readAll(text, { hertz: 10 })).column("time")).toEqual([0, 0.1, 0.2]);
  });

  test("leaves spoilt rows out and says which", async () => {
    const text = [
      "time,rpm,lambda",
      "0,1000,1.0",
      "0.1,#ERR,1.0",
      "0.2,1000",
      "0.3,1000,1.0,7,8",
      "never,1000,1.0",
      "0.5,1000,NaN",
      "0.6,1000,1.1",
    ].join("\n");
    const { column, summary } = await readAll(text);
    expect(column("time")).toEqual([0, 0.1, 0.5, 0.6]);
    expect(column("rpm")).toEqual([1000, Number.NaN, 1000, 1000]);
    expect(column("lambda")).toEqual([1, 1, Number.NaN, 1.1]);
    expect(summary.skipped).toEqual([
      { why: "wrong number of cells", count: 2, firstLine: 4 },
      { why: "no readable time", count: 1, firstLine: expect.any(Number) },
    ]);
    expect(summary.columns[1]!.firstUnreadable).toEqual({ line: 3, text: "#ERR" });
    expect(summary.columns[2]!.unreadable).toBe(1);
  });

  test("warns of columns that never change or were never sampled", async () => {
    const rows = Array.from({ length: 200 }, (_, i) => `${i},1000,,1.${i}`);
    const { summary } = await readAll(`time (s),rpm,map,lambda\n${rows.join("\n")}`);
    expect(summary.warnings.join(" ")).toMatch(/rpm.*never changes.*manifold pressure.*never sampled/);
  });

  test("reads the wanted ones of ten thousand columns", async () => {
    const wide = Array.from({ length: 10_000 }, (_, at) => (at === 9000 ? "rpm" : at === 5 ? "time" : `unnamed${at}x`));
    const row = (i: number) => wide.map((_, at) => (at === 9000 ? 1000 + i : at === 5 ? i / 10 : at)).join(",");
    const text = `${wide.join(",")}\n${row(0)}\n${row(1)}\n${row(2)}\n`;
    const bytes = encodeText(text);
    // A file comes in pieces of any size: the line of headings may be longer than the first.
    for (const size of [bytes.length, 1 << 16, 5000]) {
      const pieces = Array.from({ length: Math.ceil(bytes.length / size) }, (_, at) =>
        bytes.slice(at * size, (at + 1) * size),
      );
      const { column, count } = await readAll((() => streamOf(pieces)) as unknown as LogBytes);
      expect(count).toBe(3);
      expect(column("rpm")).toEqual([1000, 1001, 1002]);
    }
  });

  test("refuses what is no log, each with its reason", async () => {
    await expect(readLog("")).rejects.toEqual(code("log-empty"));
    await expect(readLog("# only a comment\n")).rejects.toEqual(code("log-empty"));
    await expect(readLog("hello\nworld\n")).rejects.toEqual(code("log-one-column"));
    await expect(readLog(42 as unknown as string)).rejects.toEqual(code("log-source"));
    await expect(readAll("time,rpm\n")).rejects.toEqual(code("log-no-rows"));
    await expect(readAll("time,rpm\nx,1\ny,2\n")).rejects.toEqual(code("log-no-rows"));
    await expect(readLog(small, { hertz: 0 })).rejects.toEqual(code("not-positive"));
  });

  test("says so when a file cannot be read to its end", async () => {
    const long = encodeText(small + Array.from({ length: 9000 }, (_, i) => `${1 + i / 10},1000,40,1`).join("\n"));
    const fails = () => streamOf([long, new Error("gone")]) as unknown as LogBytes;
    const log = await readLog(fails);
    await expect(
      (async () => {
        for await (const _ of log.open());
      })(),
    ).rejects.toEqual(code("log-unreadable"));
    expect(log.summary().complete).toBe(false);
    await expect(readLog(() => streamOf([new Error("gone")]) as unknown as LogBytes)).rejects.toEqual(
      code("log-unreadable"),
    );
  });

  test("a stream can be gone through once, a file again and again", async () => {
    const once = await readLog(
      (async function* () {
        yield small;
      })(),
    );
    for await (const chunk of once.open()) expect(chunk.count).toBe(3);
    await expect(once.open().next()).rejects.toEqual(code("log-read-once"));
    const again = await readLog(small);
    for (let time = 0; time < 3; time++) for await (const chunk of again.open()) expect(chunk.count).toBe(3);
  });

  test("tells how far it is, waits for whoever listens, and stops when told", async () => {
    const long = Array.from({ length: 60_000 }, (_, i) => `${i / 10},1000,40,1`).join("\n");
    const text = `time,rpm,map,lambda\n${long}\n`;
    const seen: number[] = [];
    const waited: number[] = [];
    await readAll(text, {
      onProgress: async ({ bytes, totalBytes }) => {
        expect(totalBytes).toBe(text.length);
        seen.push(bytes);
        await Promise.resolve();
        waited.push(bytes);
      },
    });
    expect(seen.length).toBeGreaterThan(3);
    expect(seen.at(-1)).toBe(text.length);
    expect(waited).toEqual(seen);
    const signal = { aborted: false };
    const log = await readLog(text, { signal, onProgress: ({ rows }) => void (signal.aborted = rows > 20_000) });
    await expect(
      (async () => {
        for await (const _ of log.open());
      })(),
    ).rejects.toEqual(code("cancelled"));
    signal.aborted = false;
    expect((await readAll(text)).count).toBe(60_000);
  });
});
