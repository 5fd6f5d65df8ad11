// The worker in which splitter.wasm (Go: chain/asset) finds limbs and splits
// characters. A character is sent once, and kept under a number: at rest and without
// clips.
let ready = null;
const characters = new Map();

async function start(base) {
  await import(/* @vite-ignore */ new URL('wasm_exec.js', base).href);
  const go = new globalThis.Go();
  const response = await fetch(new URL('splitter.wasm', base));
  if (!response.ok) throw new Error(`splitter.wasm: ${response.status} ${response.statusText}`);
  // Not instantiateStreaming, which refuses servers that do not know .wasm.
  const { instance } = await WebAssembly.instantiate(await response.arrayBuffer(), go.importObject);
  // It never ends, for its functions stay; unless it runs out of memory.
  go.run(instance).then(() => reportError(new Error('its program has ended')));
}

const calls = {
  start: ({ base }) => start(base),
  detect({ number, name, bytes }) {
    const { glb, json } = globalThis.pronateDetect(name, bytes);
    characters.set(number, { name, bytes: glb.slice() }); // the other one goes to the page
    return { glb, ...JSON.parse(json) };
  },
  split({ number, limbs }) {
    const { name, bytes } = characters.get(number);
    const { glb, json } = globalThis.pronateSplit(name, bytes, JSON.stringify({ limbs }));
    return { glb, ...JSON.parse(json) };
  },
  forget({ number }) {
    characters.delete(number);
    return null;
  },
  limbFile: ({ limbs }) => globalThis.pronateLimbFile(JSON.stringify({ limbs })),
};

onmessage = async ({ data: { id, call, ...what } }) => {
  try {
    if (call === 'start') ready = calls.start(what);
    await ready;
    const answer = call === 'start' ? null : calls[call](what);
    postMessage({ id, answer }, answer?.glb ? [answer.glb.buffer] : []);
  } catch (error) {
    postMessage({ id, error: error?.message ?? String(error) });
  }
};
