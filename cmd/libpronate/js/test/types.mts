// Never runs: tsc checks pronate.d.ts by it.
import { attach, load, PronateError, status, type Pronate, type Specification } from '../pronate.js';

const specification: Specification = { axis: new Float32Array(3), range: { flexion_deg: [-30, 120], abduction_deg: [-30, 45] } };
const pronate: Pronate = await load();
await load(fetch('pronate.wasm'));
await load(new URL('https://example.org/pronate.wasm'));
await load(new WebAssembly.Module(new Uint8Array(8)));
attach(new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(8))));

using limb = pronate.limb(specification);
const singles: Float32Array = limb.batch(4).joints;
const doubles: Float64Array = limb.planes(4, Float64Array).segments.w;
const aimed: Float64Array = pronate.aim([0, 1, 0], 3, Float64Array).aimed;
const { joint, tip }: { joint: Float64Array; tip: Float64Array } = limb.fromRest([0, 0, 0, 1], new Float32Array(4));
doubles.set(joint), doubles.set(tip);
const print: bigint = limb.info().fingerprint;
const count: number = limb.batch(3).solve().undefined;
try {
  limb.free();
} catch (error) {
  if (error instanceof PronateError && error.status === status.badLimb) throw error;
}
// @ts-expect-error: there is no such key
pronate.limb({ axes: [1, 2, 3] });
// @ts-expect-error: nor such numbers
limb.batch(4, Int8Array);
// @ts-expect-error: arrays are the batch's
limb.batch(4).joints = singles;
// @ts-expect-error: what a limb is cannot be set
limb.info().field = 'least_roll';
export { aimed, count, doubles, print };
