/// <reference lib="esnext.disposable" />
/**
 * Pronate under WebAssembly: shares the twist of a limb's joint out along its
 * segments. The answers are those of every other door of Pronate, to the last bit.
 *
 * ```js
 * import { load } from './pronate.js';
 *
 * const pronate = await load();
 * const thigh = pronate.limb({ axis: [0, -1, 0], segments: 4 });
 * const batch = thigh.batch(64);
 * batch.joints.set([0, 0.6, 0, 0.8]); // the first of 64 poses
 * batch.solve(1);
 * console.log(batch.segments.subarray(0, 4 * thigh.segments));
 * ```
 *
 * Right-handed; rotations are quaternions x, y, z, w as in glTF 2.0, of any length
 * but zero; those of segments have length 1 and w >= 0. Angles are radians, unless a
 * name ends in _deg.
 *
 * The module's memory is the memory of a batch: what is written to its arrays is not
 * copied, and what is read from them was not either. The module can grow its memory,
 * for a new limb or batch above all, and every array there was is then cut off and
 * has length 0. So ask the batch for its arrays when they are needed, which costs
 * next to nothing, and do not keep them past other calls.
 *
 * A call from within a call cannot happen: the module has one thread. For more, load
 * it in workers; a WebAssembly.Module can be sent to them.
 */

/** Numbers of the statuses, as pronate.h has them. */
export const status: {
  readonly ok: 0;
  readonly undefined: 1;
  readonly notFinite: 2;
  /** A count, a size or an address that cannot be. */
  readonly badArgument: -1;
  /** Not a limb, or freed already. */
  readonly badLimb: -2;
  /** A specification that makes no limb. */
  readonly badSpec: -3;
  /** A fault in the library itself; please report it. */
  readonly fault: -4;
};

/** What is thrown. The message is one line that says what was expected. */
export class PronateError extends Error {
  constructor(status: number, message: string, options?: { cause?: unknown });
  /** One of the negative ones of {@link status}. */
  readonly status: number;
}

/** Where a module can come from. */
export type Source = string | URL | Response | BufferSource | WebAssembly.Module;

/**
 * Starts a module of its own memory. Without a source that is the pronate.wasm beside
 * pronate.js. Texts are addresses relative to the page; a Promise, as of fetch, will
 * do. The module needs nothing but this wrapper, in browsers and in node.
 */
export function load(source?: Source | PromiseLike<Source>): Promise<Pronate>;

/**
 * Wraps an instance that was started by other means, such as node:wasi's
 * WASI.initialize.
 */
export function attach(instance: WebAssembly.Instance): Pronate;

/** Three or four numbers, in an array of any kind. */
export type Numbers = readonly number[] | Float32Array | Float64Array;

/**
 * How a limb is split. All may be left out. Frames and directions are those of the
 * rest pose.
 */
export interface Specification {
  /** Long axis of the bone in the joint's frame, [x, y, z], of any length but zero. +Y. */
  axis?: Numbers;
  /** 2 to 32; as many as there are shares, or 2. */
  segments?: number;
  /**
   * "own" ramps the joint's own twist, none at the root and all at the end: thighs and
   * upper arms. "tip" keeps it and ramps that of the joint at the tip: forearms.
   */
  twist?: 'own' | 'tip';
  /** How shares grow where none are given. "linear". */
  ramp?: 'linear' | 'smooth';
  /** Of the joint's own twist, 0 to 1 for each segment, or a ramp. */
  shares?: Numbers | 'linear' | 'smooth';
  /** Of the tip's twist, 0 to 1 for each segment. */
  tip_shares?: Numbers;
  /** Which swings the segments share. Left out: "balanced" where the range is known, "centred" for a given centre, else "shortest". */
  field?: 'shortest' | 'centred' | 'least_roll' | 'balanced';
  /** The direction that a swing goes by way of, in the anchor's frame. "auto": the range's middle. */
  centre?: 'auto' | 'none' | Numbers;
  /**
   * The joint's range of motion; it asks for down, forward and out. For animation; no
   * clinical advice.
   */
  range?: 'none' | 'hip' | 'shoulder' | 'wrist' | { flexion_deg: Numbers; abduction_deg: Numbers };
  /** Where the limb points when it hangs, in the anchor's frame, of length 1. */
  down?: Numbers;
  /** Where flexion takes it, at right angles to down. */
  forward?: Numbers;
  /** Where abduction takes it, at right angles to both. */
  out?: Numbers;
  /** World rotation of what holds the root end, [x, y, z, w]. The identity. */
  anchor_rest?: Numbers;
  /** Of the joint whose bone is split. */
  joint_rest?: Numbers;
  /** Of the joint at the tip. */
  tip_rest?: Numbers;
}

/** A module that has been started. */
export interface Pronate {
  /** Of the module, such as "0.1.0". */
  readonly version: string;
  /**
   * Makes a limb. The first one with a range of motion takes tens of milliseconds, and
   * so does the first one with each set of limits.
   * @throws PronateError with status.badSpec, naming the field.
   */
  limb(specification?: Specification): Limb;
  /**
   * A batch that turns frames by the smallest rotation which makes their axis point
   * along a target each. axis is [x, y, z] in the frames, of any length but zero.
   */
  aim(axis: Numbers, capacity: number, Numbers?: Float32ArrayConstructor): AimBatch<Float32Array>;
  aim(axis: Numbers, capacity: number, Numbers: Float64ArrayConstructor): AimBatch<Float64Array>;
}

/** A limb. It does not change, and stays until it is freed. */
export interface Limb extends Freed {
  /** How many segments it has. */
  readonly segments: number;
  /** What it has become. */
  info(): Info;
  /**
   * Makes a solve's input from rotations in the world now, [x, y, z, w] of any length
   * but zero: of the anchor, of the joint and, where the limb reads it, of the tip.
   * Numbers that are not finite give NaN. Where the joint's parent is the anchor and
   * the tip's the joint, local rotations do as well: conj(rest) * now for the joint,
   * now * conj(rest) for the tip.
   */
  fromRest(anchor: Numbers, joint: Numbers, tip?: Numbers | null): { joint: Float64Array; tip: Float64Array };
  /** Room for so many poses, with x, y, z, w side by side. */
  batch(capacity: number, Numbers?: Float32ArrayConstructor): PoseBatch<Float32Array>;
  batch(capacity: number, Numbers: Float64ArrayConstructor): PoseBatch<Float64Array>;
  /** Room for so many poses, with an array for each of x, y, z and w. */
  planes(capacity: number, Numbers?: Float32ArrayConstructor): PlaneBatch<Float32Array>;
  planes(capacity: number, Numbers: Float64ArrayConstructor): PlaneBatch<Float64Array>;
  /**
   * Frees it. Its batches cannot solve any more, and keep their arrays until they are
   * freed themselves.
   */
  free(): void;
}

/** What a limb has become. */
export interface Info {
  readonly segments: number;
  /** The one in use. */
  readonly field: 'shortest' | 'centred' | 'least_roll' | 'balanced';
  /** Whether the joint's range of motion is known. */
  readonly hasRange: boolean;
  /** Whether solves read the tip's rotations. */
  readonly hasTip: boolean;
  /** Of length 1, in the joint's frame. */
  readonly axis: number[];
  /** Likewise: a twist is undefined where the bone points straight away from it. That of the shortest arc is the axis. */
  readonly centre: number[];
  /** Of the joint's own twist, for each segment. */
  readonly shares: number[];
  /** Of the tip's, or null where it is not read. */
  readonly tipShares: number[] | null;
  /**
   * A hash of every number that solves depend on and of some answers: limbs made from
   * the same input have the same one on every machine and in C, and limbs with the
   * same one have the same answers to the bit.
   */
  readonly fingerprint: bigint;
}

/** What `using` frees at the end of its block, where the language has it. */
export interface Freed {
  free(): void;
  [Symbol.dispose](): void;
}

/** How many of those solved have no answer of their own. */
export interface Outcome {
  /**
   * A twist was undefined and taken as none: the bone pointed straight away from the
   * centre of its field, the tip was half a turn off the axis, or a quaternion was zero.
   */
  readonly undefined: number;
  /** NaN or Infinity came in; NaN went out. */
  readonly notFinite: number;
}

/** Room in the module's memory, all zeros at first. */
export interface Batch extends Freed {
  readonly capacity: number;
  /** Works on the first n; without n on all. */
  solve(n?: number): Outcome;
}

/** Poses of a limb, with x, y, z, w side by side. */
export interface PoseBatch<A> extends Batch {
  /**
   * Rotations of the joint from rest, in its own rest frame and relative to the
   * anchor: 4 numbers for each pose.
   */
  readonly joints: A;
  /** Of the joint at the tip, in the joint's frame. Read where the limb has tip shares. */
  readonly tips: A;
  /**
   * The answers, in the joint's frame: 4 numbers for each segment, a pose's segments
   * side by side. A segment is a child of the joint, i/n of the bone's length from it
   * along the axis and not turned against it at rest; this is its local rotation. The
   * joint has all of its twist already, so a root that is to have none turns it back,
   * and an end that is to have all gets the identity.
   */
  readonly segments: A;
}

/** Poses of a limb in planes: number j is of pose j, and i*capacity + j of its segment i. */
export interface PlaneBatch<A> extends Batch {
  readonly joints: Planes<A>;
  readonly tips: Planes<A>;
  readonly segments: Planes<A>;
}

export interface Planes<A> {
  readonly x: A;
  readonly y: A;
  readonly z: A;
  readonly w: A;
}

/** Frames and targets. */
export interface AimBatch<A> extends Batch {
  /** Rotations into the world: 4 numbers each. */
  readonly frames: A;
  /** Directions in the world, of any length but zero: 3 numbers each. */
  readonly targets: A;
  /** The answers: frames, turned. */
  readonly aimed: A;
}
