// Pronate for browsers and node: pronate.wasm behind a small wrapper, without
// dependencies. pronate.d.ts documents what is exported.
import { AimBatch, PlaneBatch, PoseBatch } from './batch.js';
import { Heap, lengthOf, PronateError, status } from './memory.js';
import { imports } from './wasi.js';

export { PronateError, status };

export async function load(source = new URL('./pronate.wasm', import.meta.url)) {
  const memory = {};
  const crypto = globalThis.crypto ?? (await import('node:crypto')).webcrypto; // node 18 has it there
  const instance = await instantiate(await source, imports(memory, crypto));
  memory.of = instance.exports.memory;
  instance.exports._initialize();
  return attach(instance);
}

export function attach(instance) {
  return new Pronate(new Heap(instance.exports));
}

// instantiate takes a module however it comes.
async function instantiate(source, imports) {
  if (typeof source === 'string') source = new URL(source, globalThis.location?.href ?? import.meta.url);
  if (source instanceof URL) {
    if (source.protocol === 'file:') {
      const { readFile } = await import('node:fs/promises'); // node's fetch knows no files
      source = await readFile(source);
    } else {
      source = await fetch(source);
    }
  }
  if (source instanceof WebAssembly.Module) return WebAssembly.instantiate(source, imports);
  if (typeof Response !== 'undefined' && source instanceof Response) {
    if (!source.ok) throw new PronateError(status.badArgument, `${source.url}: ${source.status} ${source.statusText}`);
    // Not instantiateStreaming, which refuses servers that do not know .wasm.
    source = await source.arrayBuffer();
  }
  return (await WebAssembly.instantiate(source, imports)).instance;
}

class Pronate {
  #heap;

  constructor(heap) {
    this.#heap = heap;
  }

  get version() {
    const v = this.#heap.call('pronate_version');
    return `${v >>> 16}.${(v >>> 8) & 255}.${v & 255}`;
  }

  limb(specification = {}) {
    return new Limb(this.#heap, specification);
  }

  aim(axis, capacity, Numbers = Float32Array) {
    return new AimBatch(this.#heap, axis, capacity, Numbers);
  }
}

// plain makes typed arrays plain ones, and stops numbers that JSON would turn into
// null.
function plain(key, value) {
  if (ArrayBuffer.isView(value) && !(value instanceof DataView)) return Array.from(value);
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new PronateError(status.badSpec, `the specification has ${value} at ${key}, expected finite numbers`);
  }
  return value;
}

const none = 0n;
const fields = ['any', 'shortest', 'centred', 'least_roll', 'balanced'];
const mostSegments = 32;
const infoSize = 24 + 8 * (3 + 3 + 2 * mostSegments + 1); // pronate_limb_info
const rotationSize = 4 * 8;

class Limb {
  #heap;
  #limb;
  #segments;

  constructor(heap, specification) {
    this.#heap = heap;
    const text = new TextEncoder().encode(JSON.stringify(specification, plain));
    this.#limb = heap.lend(8 + text.length, (address) => { // the limb's number goes first
      new Uint8Array(heap.buffer, address + 8, text.length).set(text);
      heap.must('pronate_limb_from_spec', address + 8, text.length, address);
      return new BigUint64Array(heap.buffer, address, 1)[0];
    });
    this.#segments = heap.must('pronate_limb_segments', this.#limb);
  }

  get segments() {
    return this.#segments;
  }

  info() {
    return this.#heap.lend(infoSize, (address) => {
      this.#heap.must('pronate_limb_describe', this.#number(), address);
      const view = new DataView(this.#heap.buffer, address, infoSize);
      const int = (i) => view.getInt32(4 * i, true);
      const numbers = (first, length) => Array.from({ length }, (_, i) => view.getFloat64(24 + 8 * (first + i), true));
      const [segments, hasTip] = [int(1), int(4) !== 0];
      return {
        segments,
        field: fields[int(2)],
        hasRange: int(3) !== 0,
        hasTip,
        axis: numbers(0, 3),
        centre: numbers(3, 3),
        shares: numbers(6, segments),
        tipShares: hasTip ? numbers(6 + mostSegments, segments) : null,
        fingerprint: view.getBigUint64(infoSize - 8, true),
      };
    });
  }

  fromRest(anchor, joint, tip) {
    return this.#heap.lend(5 * rotationSize, (address) => {
      const at = (i) => address + i * rotationSize;
      for (const [i, [name, q]] of Object.entries({ anchor, joint, tip }).entries()) {
        if (name === 'tip' && q == null) continue;
        if (q?.length !== 4) throw new PronateError(status.badArgument, `${name} ${lengthOf(q)}, expected [x, y, z, w]`);
        new Float64Array(this.#heap.buffer, at(i), 4).set(q);
      }
      this.#heap.must('pronate_from_rest', this.#number(), at(0), at(1), tip == null ? 0 : at(2), at(3), at(4));
      const numbers = (i) => new Float64Array(this.#heap.buffer, at(i), 4).slice();
      return { joint: numbers(3), tip: numbers(4) };
    });
  }

  // #number is the limb's, as long as it has one.
  #number() {
    if (this.#limb === none) throw new PronateError(status.badLimb, 'the limb has been freed');
    return this.#limb;
  }

  batch(capacity, Numbers = Float32Array) {
    this.#number();
    return new PoseBatch(this.#heap, () => this.#number(), this.#segments, capacity, Numbers);
  }

  planes(capacity, Numbers = Float32Array) {
    this.#number();
    return new PlaneBatch(this.#heap, () => this.#number(), this.#segments, capacity, Numbers);
  }

  free() {
    const limb = this.#limb;
    this.#limb = none;
    this.#heap.must('pronate_limb_free', limb);
  }
}

if (Symbol.dispose) Limb.prototype[Symbol.dispose] = Limb.prototype.free;
