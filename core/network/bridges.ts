import type { Branch } from './circuit.ts';

/**
 * Which branches are bridges: without such a one its two ends are no longer joined (Tarjan, Information Processing Letters 2, 1974). Only
 * what conducts counts; two branches between the same nodes are no bridges.
 */
export function bridgesOf(nodes: number, branches: readonly Branch[]): boolean[] {
  const around = Array.from({ length: nodes }, (): number[] => []);
  for (const [index, { from, to, ohms }] of branches.entries()) {
    if (ohms === Number.POSITIVE_INFINITY) continue;
    around[from]?.push(index);
    around[to]?.push(index);
  }
  const isBridge = branches.map(() => false);
  const seen = new Int32Array(nodes).fill(-1);
  const lowest = new Int32Array(nodes);
  let count = 0;
  for (let begin = 0; begin < nodes; begin++) {
    if (seen[begin] !== -1) continue;
    // Without recursion: a ladder may be thousands of nodes deep.
    const path = [{ node: begin, by: -1, next: 0 }];
    seen[begin] = lowest[begin] = count++;
    for (let top = path.at(-1); top !== undefined; top = path.at(-1)) {
      const index = around[top.node]?.[top.next++];
      if (index === undefined) {
        path.pop();
        const before = path.at(-1);
        if (!before) continue;
        lowest[before.node] = Math.min(lowest[before.node] as number, lowest[top.node] as number);
        if ((lowest[top.node] as number) > (seen[before.node] as number)) isBridge[top.by] = true;
        continue;
      }
      if (index === top.by) continue;
      const { from, to } = branches[index] as Branch;
      const other = from === top.node ? to : from;
      if (seen[other] === -1) {
        seen[other] = lowest[other] = count++;
        path.push({ node: other, by: index, next: 0 });
      } else {
        lowest[top.node] = Math.min(lowest[top.node] as number, seen[other] as number);
      }
    }
  }
  return isBridge;
}
