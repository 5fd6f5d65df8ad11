// The tasks as pronate.js does them: a call into the module for all, on arrays in its
// memory. The build leaves the wrapper and the module in the folder pronate.
import { load as start } from './pronate/pronate.js';
import { arrays, load, row, segments, version } from './peer.mjs';

const pronate = await start();
version(`pronate ${pronate.version} as WebAssembly`);

for (const precision of ['float64', 'float32']) {
  const { poses, targets, axis } = load(precision);
  const n = poses.length / 4;
  const limbs = pronate.limb({ axis, segments }).batch(n, arrays[precision]);
  const aims = pronate.aim(axis, n, arrays[precision]);
  limbs.joints.set(poses);
  aims.frames.set(poses);
  aims.targets.set(targets);
  limbs.solve();
  aims.solve();
  // Answers are copies, for memory may grow and cut off the arrays there were.
  row('limb', 'pronate, WebAssembly', precision, limbs.segments.slice(), () => limbs.solve());
  row('aim', 'pronate, WebAssembly', precision, aims.aimed.slice(), () => aims.solve());
}
