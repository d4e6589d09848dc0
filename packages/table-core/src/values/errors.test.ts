import { expect, test } from "vitest";
import { refusal } from "../../testing/refusal.ts";
import { FuelwrightError, within } from "./errors.ts";

test("an error carries its code, its sentence and the facts", () => {
  const error = new FuelwrightError("too-hot", "oil: 160 °C must be below 140; let it cool", { celsius: 160 });
  expect(error).toMatchObject({ name: "FuelwrightError", code: "too-hot", details: { celsius: 160 } });
  expect(error.message).toBe("oil: 160 °C must be below 140; let it cool");
  expect(new FuelwrightError("a", "b").details).toEqual({});
});

test("within gives what the work gives, and says where an error of ours came from", () => {
  expect(within("steps[3]", () => 7)).toBe(7);
  const inner = () => {
    throw new FuelwrightError("too-hot", "oil: too hot", { celsius: 160, where: "oil" });
  };
  expect(refusal(() => within("steps[3]", inner))).toMatchObject({
    code: "too-hot",
    message: "steps[3]: oil: too hot",
    details: { celsius: 160, where: "steps[3]" },
  });
});

test("within lets any other error through as it is", () => {
  const own = new RangeError("not ours");
  expect(() =>
    within("steps[3]", () => {
      throw own;
    }),
  ).toThrow(own);
});
