// What is under way, and what went wrong.
export class Work {
  #under = []; // what each piece is called, in the order of their beginnings

  constructor(root) {
    this.root = root;
    this.busy = root.querySelector('#busy');
    this.alert = root.querySelector('#alert');
  }

  // do says that something is under way while it is. It returns whether it went well.
  async do(what, doing) {
    const piece = { what };
    this.#under.push(piece);
    this.#show();
    try {
      await doing();
      this.alert.textContent = '';
      return true;
    } catch (error) {
      this.alert.textContent = String(error?.message ?? error).split('\n')[0];
      return false;
    } finally {
      this.#under.splice(this.#under.indexOf(piece), 1);
      this.#show();
    }
  }

  #show() {
    const told = this.#under.map(({ what }) => what).filter(Boolean);
    this.busy.textContent = told.at(-1) ?? '';
    this.root.setAttribute('aria-busy', String(this.#under.length > 0));
  }
}
