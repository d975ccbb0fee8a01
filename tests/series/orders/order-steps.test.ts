import { describe, expect, it } from "vitest";
import { noOrder, orderAt } from "../../../src/series/orders/order-steps.js";
import { type LooseOrder, ordersFrom } from "../plan-row.js";

/** What is in force, by the project's definition of an order. */
const hour = 3_600_000;
const day = 24 * hour;
const start = Date.UTC(2025, 4, 1, 6);
const milk = (from: number, more: Partial<LooseOrder> = {}): LooseOrder => ({
  from: start + from * day,
  dietId: "milk",
  gPerFeed: 50,
  feedsPerDay: 8,
  ...more,
});
const clam = (from: number, more: Partial<LooseOrder> = {}) =>
  milk(from, { dietId: "clam", gPerFeed: 20, ...more });
const nil = (from: number, more: Partial<LooseOrder> = {}) =>
  ({ from: start + from * day, dietId: "nil by mouth", ...more }) as LooseOrder;
const till = (d: number) => ({ to: start + d * day });
/** What is told at a day after the first order, each part by its diets. */
const told = (orders: readonly LooseOrder[], at: number) => {
  const order = orderAt(ordersFrom(orders), start + at * day);
  const ids = (lines: readonly { dietId: string | null }[]) =>
    lines.map((l) => l.dietId ?? "?").join("+");
  const { state, since, lines, notEnded, leftStanding, before, ended, nil: none } = order;
  return {
    state,
    since: since === null ? null : (since - start) / day,
    lines: ids(lines),
    notEnded: ids(notEnded),
    leftStanding: ids(leftStanding),
    before: ids(before),
    ended: ids(ended),
    nil: ids(none),
  };
};
const nothing = { lines: "", notEnded: "", leftStanding: "", before: "", ended: "", nil: "" };

describe("an order in force", () => {
  it("is none before the first begins, and holds from its very begin", () => {
    expect(orderAt(ordersFrom([]), start)).toBe(noOrder);
    expect(told([milk(0)], -0.001)).toEqual({ ...nothing, state: "no order", since: null });
    expect(told([milk(0)], 0)).toEqual({ ...nothing, state: "ordered", since: 0, lines: "milk" });
  });

  it("ends at its written end, that instant no longer, and is told as ended", () => {
    const orders = [milk(0, till(2))];
    expect(told(orders, 1.999)).toEqual({ ...nothing, state: "ordered", since: 0, lines: "milk" });
    expect(told(orders, 2)).toEqual({ ...nothing, state: "ended", since: 0, ended: "milk" });
  });

  it("names what it replaced, and does not fall back on it", () => {
    const orders = [milk(0, { gPerFeed: 30 }), milk(1, till(2))];
    expect(told(orders, 1)).toEqual({
      ...nothing,
      state: "ordered",
      since: 1,
      lines: "milk",
      before: "milk",
    });
    expect(told(orders, 3)).toEqual({
      ...nothing,
      state: "ended",
      since: 1,
      before: "milk",
      ended: "milk",
    });
  });

  it("names what ran until it began, else what was in force last", () => {
    expect(told([milk(0, till(1)), clam(1)], 1).before).toBe("milk");
    // Of two that had ended by then, the one that lasted longer.
    expect(told([milk(0, till(1)), clam(0, till(2)), milk(4)], 4).before).toBe("clam");
    expect(told([milk(0, till(1)), clam(0, till(1)), milk(4)], 4).before).toBe("clam+milk");
    // One still open at its begin goes before one that had ended.
    expect(told([milk(0), clam(0, till(1)), milk(2)], 2).before).toBe("milk");
    expect(told([milk(0)], 0).before).toBe("");
  });

  it("keeps beside it an older line of another diet until that one's written end", () => {
    const orders = [milk(0, till(3)), clam(1)];
    expect(told(orders, 1)).toMatchObject({ lines: "clam+milk", notEnded: "" });
    expect(told(orders, 3)).toMatchObject({ lines: "clam", ended: "milk", state: "ordered" });
    // One that ends as it begins is over.
    expect(told([milk(0, till(1)), clam(1)], 1)).toMatchObject({ lines: "clam", ended: "" });
  });

  it("sets apart an older line of another diet without an end, until that diet is ordered or ended", () => {
    const orders = [milk(0), clam(1)];
    expect(told(orders, 1)).toMatchObject({ lines: "clam", notEnded: "milk", before: "milk" });
    expect(told([...orders, clam(2)], 2)).toMatchObject({ lines: "clam", notEnded: "milk" });
    expect(told([...orders, milk(2)], 2)).toMatchObject({ lines: "milk", notEnded: "clam" });
    expect(told([...orders, nil(2)], 2)).toMatchObject({ state: "nil by mouth", notEnded: "" });
    expect(told([...orders, milk(2, { gPerFeed: 0 })], 2)).toMatchObject({
      lines: "clam",
      notEnded: "",
    });
  });

  it("of a diet that is not named may mean any: what stood is asked about", () => {
    const unnamed = milk(1, { dietId: null });
    expect(told([milk(0, till(3)), unnamed], 1)).toMatchObject({ lines: "?", notEnded: "milk" });
    expect(told([milk(0, till(3)), unnamed], 3)).toMatchObject({
      lines: "?",
      notEnded: "",
      ended: "",
    });
    expect(told([milk(0, { ...till(3), dietId: null }), clam(1)], 1)).toMatchObject({
      lines: "clam",
      notEnded: "?",
    });
  });
});

describe("nothing by mouth", () => {
  it("ends every line, and is told with what it replaced", () => {
    expect(told([milk(0), clam(0, till(9)), nil(1)], 1)).toEqual({
      ...nothing,
      state: "nil by mouth",
      since: 1,
      before: "clam+milk",
      nil: "nil by mouth",
    });
  });

  it("over, is followed by nothing", () => {
    const orders = [milk(0), nil(1, till(2))];
    expect(told(orders, 1.9).state).toBe("nil by mouth");
    expect(told(orders, 2)).toMatchObject({
      state: "ended",
      ended: "nil by mouth",
      before: "milk",
      nil: "",
    });
  });

  it("in one line of an order goes before its feeds", () => {
    expect(told([milk(0), nil(0)], 0)).toMatchObject({ state: "nil by mouth", lines: "" });
  });
});

describe("a zero", () => {
  const zero = (from: number, dietId: string | null) => milk(from, { dietId, gPerFeed: 0 });
  it("of the only diet in force is nothing by mouth", () => {
    expect(told([milk(0), zero(1, "milk")], 1)).toMatchObject({
      state: "nil by mouth",
      nil: "milk",
      before: "milk",
    });
    expect(told([zero(0, "milk")], 0)).toMatchObject({ state: "nil by mouth" });
  });

  it("of one of several ends that one; the others stand and are asked about", () => {
    const orders = [milk(0), clam(0), zero(1, "milk")];
    expect(told(orders, 1)).toMatchObject({
      state: "ordered",
      lines: "clam",
      leftStanding: "clam",
      nil: "",
    });
    const ending = [milk(0), clam(0, till(3)), zero(1, "milk")];
    expect(told(ending, 2)).toMatchObject({ lines: "clam", leftStanding: "clam" });
    expect(told(ending, 3)).toMatchObject({
      state: "ended",
      lines: "",
      leftStanding: "",
      ended: "clam",
    });
    // One that ended by then does not stand.
    expect(told([milk(0), clam(0, till(1)), zero(1, "milk")], 1)).toMatchObject({
      state: "nil by mouth",
    });
  });

  it("without a diet is zero of everything", () => {
    expect(told([milk(0), clam(0), zero(1, null)], 1)).toMatchObject({
      state: "nil by mouth",
      lines: "",
    });
  });

  it("beside a feed in one order is no line of it", () => {
    expect(told([zero(0, "milk"), clam(0)], 0)).toMatchObject({
      state: "ordered",
      lines: "clam",
      nil: "",
    });
  });
});

describe("steps", () => {
  const steps = (orders: readonly LooseOrder[]) =>
    ordersFrom(orders).steps.map((s) => [
      (s.from - start) / day,
      s.to === null ? null : (s.to - start) / day,
    ]);
  it("follow each other without a gap: begins, and ends within", () => {
    expect(steps([milk(0, till(2)), clam(0, till(1)), milk(5)])).toEqual([
      [0, 1],
      [1, 2],
      [2, 5],
      [5, null],
    ]);
    // An end at or after the next begin, or at its own, cuts nothing; two at once cut once.
    expect(steps([milk(0, till(5)), milk(5)])).toEqual([
      [0, 5],
      [5, null],
    ]);
    expect(steps([milk(0, till(1)), clam(0, till(1))])).toEqual([
      [0, 1],
      [1, null],
    ]);
    expect(steps([milk(0), nil(1, till(2)), milk(3)])).toEqual([
      [0, 1],
      [1, 2],
      [2, 3],
      [3, null],
    ]);
  });

  it("of lines set apart end with them", () => {
    // Milk until day 4 is apart once a line without a diet begins.
    expect(steps([milk(0, till(4)), milk(1, { dietId: null })])).toEqual([
      [0, 1],
      [1, 4],
      [4, null],
    ]);
  });
});
