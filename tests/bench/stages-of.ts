import { Session } from "node:inspector/promises";

/** What the profiler hands back, as far as it is read here. */
interface ProfileNode {
  readonly id: number;
  readonly callFrame: { readonly functionName: string };
  readonly children?: readonly number[] | undefined;
}

/**
 * Runs some work under the profiler and answers how much of its time was spent in
 * each stage, %: in the functions of these names and what they call, the innermost
 * one counting; the collection of garbage for itself; the rest as "other".
 */
export async function stagesOf(
  work: () => Promise<unknown>,
  stages: readonly string[],
): Promise<Readonly<Record<string, number>>> {
  const session = new Session();
  session.connect();
  await session.post("Profiler.enable");
  await session.post("Profiler.start");
  await work();
  const { profile } = await session.post("Profiler.stop");
  session.disconnect();
  const nodes = new Map(profile.nodes.map((n): [number, ProfileNode] => [n.id, n]));
  const stageOf = new Map<number, string>();
  const place = (node: ProfileNode, within: string) => {
    const name = node.callFrame.functionName;
    const stage = name === "(garbage collector)" || stages.includes(name) ? name : within;
    stageOf.set(node.id, stage);
    for (const id of node.children ?? []) place(nodes.get(id)!, stage);
  };
  place(profile.nodes[0]!, "other");
  const counts: Record<string, number> = {};
  let busy = 0;
  for (const id of profile.samples ?? []) {
    if (nodes.get(id)!.callFrame.functionName === "(idle)") continue;
    const stage = stageOf.get(id)!;
    counts[stage] = (counts[stage] ?? 0) + 1;
    busy++;
  }
  return Object.fromEntries(
    Object.entries(counts)
      .sort((a, b) => b[1] - a[1])
      .map(([stage, n]) => [stage, Math.round((1000 * n) / busy) / 10]),
  );
}
