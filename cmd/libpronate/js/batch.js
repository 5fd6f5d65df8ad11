// Arrays in the module's memory, and the calls that work on them.
import { lengthOf, Part, PronateError, status } from './memory.js';

const outcomeSize = 16; // pronate_outcome: two numbers of 64 bits
const layoutSize = 24; // pronate_rotations: four addresses, stride and segment

// Batch is what all of them have: one piece of memory, and room for so many.
class Batch {
  #heap;
  #address;
  #end;
  #capacity;
  #Numbers;
  #outcome;

  constructor(heap, capacity, Numbers, numbersEach, head) {
    if (!Number.isSafeInteger(capacity) || capacity < 0) {
      throw new PronateError(status.badArgument, `capacity is ${capacity}, expected a whole number, 0 or more`);
    }
    if (Numbers !== Float32Array && Numbers !== Float64Array) {
      throw new PronateError(status.badArgument, 'the numbers of a batch are Float32Array or Float64Array');
    }
    this.#heap = heap;
    this.#capacity = capacity;
    this.#Numbers = Numbers;
    this.#address = heap.alloc(outcomeSize + head + capacity * numbersEach * Numbers.BYTES_PER_ELEMENT);
    this.#end = this.#address;
    this.#outcome = this._part(Uint32Array, outcomeSize / 4);
  }

  get capacity() {
    return this.#capacity;
  }

  // _part is the next so many numbers.
  _part(Numbers, length) {
    const part = new Part(this.#heap, Numbers, this.#end, length);
    this.#end += length * Numbers.BYTES_PER_ELEMENT;
    return part;
  }

  _numbers(each) {
    return this._part(this.#Numbers, each * this.#capacity);
  }

  _array(part) {
    this._alive();
    return part.array;
  }

  _alive() {
    if (this.#address === 0) throw new PronateError(status.badArgument, 'the batch has been freed');
  }

  // _run calls a function on the first n, and returns what has no answer of its own.
  _run(name, n, ...values) {
    this._alive();
    if (!Number.isSafeInteger(n) || n < 0 || n > this.#capacity) {
      throw new PronateError(status.badArgument, `n is ${n}, expected a whole number from 0 to ${this.#capacity}, the capacity`);
    }
    const precision = this.#Numbers === Float32Array ? 'f32' : 'f64';
    this.#heap.must(`${name}_${precision}`, ...values, n, this.#outcome.address);
    const counts = this.#outcome.array; // the low halves hold all that fits into memory
    return { undefined: counts[0], notFinite: counts[2] };
  }

  free() {
    const address = this.#address;
    this.#address = 0;
    if (address !== 0) this.#heap.free(address);
  }
}

if (Symbol.dispose) Batch.prototype[Symbol.dispose] = Batch.prototype.free;

// LimbBatch is a batch of a limb. #limb gives its number, and throws once it is freed.
class LimbBatch extends Batch {
  #limb;
  #layouts;

  constructor(heap, limb, segments, capacity, Numbers) {
    super(heap, capacity, Numbers, 4 + 4 + 4 * segments, 3 * layoutSize);
    this.#limb = limb;
    this.#layouts = this._part(Uint32Array, (3 * layoutSize) / 4);
  }

  _describe(...layouts) {
    this.#layouts.array.set(layouts.flat());
  }

  solve(n = this.capacity) {
    this._alive();
    const [joints, tips, dst] = [0, 1, 2].map((i) => this.#layouts.address + i * layoutSize);
    return this._run('pronate_solve_layout', n, this.#limb(), dst, joints, tips);
  }
}

// PoseBatch has x, y, z, w side by side.
export class PoseBatch extends LimbBatch {
  #joints;
  #tips;
  #segments;

  constructor(heap, limb, segments, capacity, Numbers) {
    super(heap, limb, segments, capacity, Numbers);
    this.#joints = this._numbers(4);
    this.#tips = this._numbers(4);
    this.#segments = this._numbers(4 * segments);
    const layout = (part, each) => {
      const [x, size] = [part.address, Numbers.BYTES_PER_ELEMENT];
      return [x, x + size, x + 2 * size, x + 3 * size, 4 * each, 4];
    };
    if (capacity > 0) this._describe(layout(this.#joints, 1), layout(this.#tips, 1), layout(this.#segments, segments));
  }

  get joints() {
    return this._array(this.#joints);
  }

  get tips() {
    return this._array(this.#tips);
  }

  get segments() {
    return this._array(this.#segments);
  }
}

// PlaneBatch has an array for each of x, y, z and w.
export class PlaneBatch extends LimbBatch {
  constructor(heap, limb, segments, capacity, Numbers) {
    super(heap, limb, segments, capacity, Numbers);
    this.joints = new Planes(this, 1);
    this.tips = new Planes(this, 1);
    this.segments = new Planes(this, segments);
    if (capacity > 0) this._describe(this.joints._layout(), this.tips._layout(), this.segments._layout());
  }
}

class Planes {
  #batch;
  #parts;

  constructor(batch, each) {
    this.#batch = batch;
    this.#parts = [0, 1, 2, 3].map(() => batch._numbers(each));
  }

  _layout() {
    return [...this.#parts.map((part) => part.address), 1, this.#batch.capacity];
  }

  get x() {
    return this.#batch._array(this.#parts[0]);
  }

  get y() {
    return this.#batch._array(this.#parts[1]);
  }

  get z() {
    return this.#batch._array(this.#parts[2]);
  }

  get w() {
    return this.#batch._array(this.#parts[3]);
  }
}

// AimBatch aims frames.
export class AimBatch extends Batch {
  #axis;
  #frames;
  #targets;
  #aimed;

  constructor(heap, axis, capacity, Numbers) {
    if (axis?.length !== 3) throw new PronateError(status.badArgument, `axis ${lengthOf(axis)}, expected [x, y, z]`);
    super(heap, capacity, Numbers, 4 + 3 + 4, 3 * 8);
    this.#axis = this._part(Float64Array, 3);
    this.#axis.array.set(axis);
    // Frames first: numbers of four have the even places.
    this.#frames = this._numbers(4);
    this.#aimed = this._numbers(4);
    this.#targets = this._numbers(3);
    try {
      this.solve(0); // which looks at the axis
    } catch (error) {
      this.free();
      throw error;
    }
  }

  get frames() {
    return this._array(this.#frames);
  }

  get targets() {
    return this._array(this.#targets);
  }

  get aimed() {
    return this._array(this.#aimed);
  }

  solve(n = this.capacity) {
    return this._run('pronate_aim', n, this.#axis.address, this.#aimed.address, this.#frames.address, this.#targets.address);
  }
}
