// Pronate for browsers and node: pronate.wasm behind a small wrapper, without
// dependencies. pronate.d.ts documents what is exported.
import { AimBatch, PlaneBatch, PoseBatch } from './batch.js';
import { Heap, PronateError, status } from './memory.js';
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

class Limb {
  #heap;
  #limb;
  #segments;

  constructor(heap, specification) {
    this.#heap = heap;
    const text = new TextEncoder().encode(JSON.stringify(specification, plain));
    const address = heap.alloc(8 + text.length); // the limb's number goes first
    try {
      new Uint8Array(heap.buffer, address + 8, text.length).set(text);
      heap.must('pronate_limb_from_spec', address + 8, text.length, address);
      this.#limb = new BigUint64Array(heap.buffer, address, 1)[0];
    } finally {
      heap.free(address);
    }
    this.#segments = heap.must('pronate_limb_segments', this.#limb);
  }

  get segments() {
    return this.#segments;
  }

  batch(capacity, Numbers = Float32Array) {
    return new PoseBatch(this.#heap, () => this.#limb, this.#segments, capacity, Numbers);
  }

  planes(capacity, Numbers = Float32Array) {
    return new PlaneBatch(this.#heap, () => this.#limb, this.#segments, capacity, Numbers);
  }

  free() {
    const limb = this.#limb;
    this.#limb = none;
    this.#heap.must('pronate_limb_free', limb);
  }
}

if (Symbol.dispose) Limb.prototype[Symbol.dispose] = Limb.prototype.free;
