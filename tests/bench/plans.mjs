// Times plans of the worked briefs in WebAssembly, wherever it runs.

/** The worked briefs: `{ name, brief }`. */
export async function workedBriefs() {
  const { readFile, readdir } = await import('node:fs/promises');
  const folder = new URL('../briefs/', import.meta.url);
  const files = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  return Promise.all(
    files.map(async (name) => ({
      name: name.slice(0, -'.json'.length),
      brief: JSON.parse(await readFile(new URL(name, folder), 'utf8')),
    })),
  );
}

/** Microseconds of one call of each kind, for each brief: the quickest of several batches. */
export function planRows(core, briefs) {
  const BATCHES = 9;
  const BATCH_MS = 40;
  const batch = (call, calls) => {
    const began = performance.now();
    for (let i = 0; i < calls; i++) call();
    return performance.now() - began;
  };
  const micros = (call) => {
    let calls = 1;
    while (batch(call, calls) < BATCH_MS) calls *= 2;
    return Math.min(...Array.from({ length: BATCHES }, () => (1000 * batch(call, calls)) / calls));
  };
  // As the page asks: objects to JSON, and the answer's JSON to objects.
  const asked = (call) => (brief) => JSON.parse(call(JSON.stringify(brief)));
  const kinds = {
    plan: asked(core.plan),
    plan_without_ranges: asked(core.plan_quick),
    plan_with_working: asked(core.plan_with_working),
  };
  return briefs.flatMap(({ name, brief }) => {
    if (!kinds.plan(brief).plan) throw new Error(`${name} does not plan`);
    return Object.entries(kinds).map(([what, call]) => ({ brief: name, what, micros: micros(() => call(brief)) }));
  });
}
