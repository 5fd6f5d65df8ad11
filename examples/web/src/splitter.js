// The worker's calls as promises.
export class Splitter {
  #worker = new Worker(new URL('./splitter-worker.js', import.meta.url), { type: 'module' });
  #waiting = new Map();
  #last = 0;

  constructor() {
    this.#worker.onmessage = ({ data: { id, answer, error } }) => {
      const { resolve, reject } = this.#waiting.get(id);
      this.#waiting.delete(id);
      if (error === undefined) resolve(answer);
      else reject(new Error(error));
    };
    this.#worker.onerror = (event) => {
      for (const { reject } of this.#waiting.values()) reject(new Error(`the splitter failed: ${event.message}`));
      this.#waiting.clear();
    };
  }

  #call(call, what) {
    const id = ++this.#last;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, call, ...what });
    });
  }

  start = (base) => this.#call('start', { base });
  // detect keeps the character under a number until it is forgotten.
  detect = (number, name, bytes) => this.#call('detect', { number, name, bytes });
  split = (number, limbs) => this.#call('split', { number, limbs });
  forget = (number) => this.#call('forget', { number });
  limbFile = (limbs) => this.#call('limbFile', { limbs });
}
