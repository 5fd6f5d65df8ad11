// The module's memory and the calls into it.

// status is pronate_status of pronate.h.
export const status = Object.freeze({
  ok: 0,
  undefined: 1,
  notFinite: 2,
  badArgument: -1,
  badLimb: -2,
  badSpec: -3,
  fault: -4,
});

export class PronateError extends Error {
  constructor(status, message, options) {
    super(message, options);
    this.name = 'PronateError';
    this.status = status;
  }
}

// Heap is one started module.
export class Heap {
  #exports;
  #stopped; // why nothing can be called any more

  constructor(exports) {
    this.#exports = exports;
  }

  // buffer is the memory as it is now: another object after it has grown.
  get buffer() {
    return this.#exports.memory.buffer;
  }

  // call returns what the function returns. One that ends the module, as only a fault
  // does, leaves Go in the middle of something: it is the last one.
  call(name, ...values) {
    if (this.#stopped) throw new PronateError(status.fault, `the module has stopped: ${this.#stopped.message}`);
    try {
      return this.#exports[name](...values);
    } catch (cause) {
      this.#stopped = cause;
      throw new PronateError(status.fault, `the module has stopped: ${cause.message}`, { cause });
    }
  }

  // must is call for functions that return a status.
  must(name, ...values) {
    const result = this.call(name, ...values);
    if (result < 0) throw this.#failure(result);
    return result;
  }

  #failure(status) {
    const text = new Uint8Array(this.buffer, this.call('pronate_message') >>> 0, this.call('pronate_message_length'));
    return new PronateError(status, new TextDecoder().decode(text));
  }

  // alloc gives memory of zeros, at an address that 8 divides.
  alloc(size) {
    if (!(size <= 0xffffffff)) throw new PronateError(status.badArgument, `${size} bytes asked for, expected less than 4 GiB`);
    const address = this.call('pronate_alloc', size) >>> 0;
    if (address === 0) throw this.#failure(status.badArgument);
    return address;
  }

  // lend is memory for as long as what works with it takes.
  lend(size, work) {
    const address = this.alloc(size);
    try {
      return work(address);
    } finally {
      this.free(address);
    }
  }

  free(address) {
    this.must('pronate_free_memory', address);
  }
}

// lengthOf says what came instead of so many numbers.
export function lengthOf(numbers) {
  return typeof numbers?.length === 'number' ? `has ${numbers.length} numbers` : `is ${numbers}`;
}

// Part is a part of the memory, as an array of numbers.
export class Part {
  #heap;
  #array;
  #address;
  #length;

  constructor(heap, Numbers, address, length) {
    this.#heap = heap;
    this.#address = address;
    this.#length = length;
    this.#array = new Numbers(heap.buffer, address, length);
  }

  get address() {
    return this.#address;
  }

  // array is made anew when memory has grown, which cuts old ones off from it.
  get array() {
    if (this.#array.buffer !== this.#heap.buffer) {
      this.#array = new this.#array.constructor(this.#heap.buffer, this.#address, this.#length);
    }
    return this.#array;
  }
}
