// What frames cost, in milliseconds: the last few hundred of them.
export class Frames {
  #costs = new Float64Array(512);
  count = 0;
  last = 0;

  add(cost) {
    this.last = cost;
    this.#costs[this.count++ % this.#costs.length] = cost;
  }

  get summary() {
    const some = Array.from(this.#costs.subarray(0, Math.min(this.count, this.#costs.length))).sort((a, b) => a - b);
    return { count: this.count, last: this.last, median: some[some.length >> 1] ?? 0, worst: some.at(-1) ?? 0 };
  }
}
