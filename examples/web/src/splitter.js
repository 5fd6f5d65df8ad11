// The worker's calls as promises.
export class Splitter {
  #worker = new Worker(new URL('./splitter-worker.js', import.meta.url), { type: 'module' });
  #waiting = new Map();
  #last = 0;
  #failure = null; // of the worker itself, which then answers nothing any more

  constructor() {
    this.#worker.onmessage = ({ data: { id, answer, error } }) => {
      const waiting = this.#waiting.get(id);
      this.#waiting.delete(id);
      if (error === undefined) waiting?.resolve(answer);
      else waiting?.reject(new Error(error));
    };
    this.#worker.onerror = (event) => this.#fail(event.message || 'it could not be loaded');
    this.#worker.onmessageerror = () => this.#fail('an answer of it could not be read');
  }

  #fail(why) {
    this.#failure ??= new Error(`the splitter failed (${why}): reload the page`);
    for (const { reject } of this.#waiting.values()) reject(this.#failure);
    this.#waiting.clear();
  }

  #call(call, what) {
    if (this.#failure) return Promise.reject(this.#failure);
    const id = ++this.#last;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, call, ...what });
    });
  }

  start = (base) => this.#call('start', { base });
  // detect keeps the character under a number until it is forgotten, and returns it at
  // rest as well.
  detect = (number, name, bytes) => this.#call('detect', { number, name, bytes });
  split = (number, limbs) => this.#call('split', { number, limbs });
  // forget ends well, whatever has become of the worker: nobody waits for it.
  forget = (number) => this.#call('forget', { number }).catch(() => {});
  limbFile = (limbs) => this.#call('limbFile', { limbs });
}
