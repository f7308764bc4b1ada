/** A binary heap, the least bound first. */
export class Queue<Item> {
  readonly #bounds: number[] = [];
  readonly #items: Item[] = [];

  /** The least bound there is; infinity where nothing waits. */
  get least(): number {
    return this.#bounds[0] ?? Number.POSITIVE_INFINITY;
  }

  push(bound: number, item: Item): void {
    let at = this.#bounds.length;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (this.#bounds[parent] <= bound) break;
      this.#bounds[at] = this.#bounds[parent];
      this.#items[at] = this.#items[parent];
      at = parent;
    }
    this.#bounds[at] = bound;
    this.#items[at] = item;
  }

  pop(): { bound: number; item: Item } | null {
    const bound = this.#bounds[0];
    const item = this.#items[0];
    const lastBound = this.#bounds.pop();
    const lastItem = this.#items.pop();
    if (lastBound === undefined || lastItem === undefined) return null;
    if (this.#bounds.length > 0) this.#sink(lastBound, lastItem);
    return { bound, item };
  }

  #sink(bound: number, item: Item): void {
    const size = this.#bounds.length;
    let at = 0;
    for (let child = 1; child < size; child = at * 2 + 1) {
      if (child + 1 < size && this.#bounds[child + 1] < this.#bounds[child]) child++;
      if (this.#bounds[child] >= bound) break;
      this.#bounds[at] = this.#bounds[child];
      this.#items[at] = this.#items[child];
      at = child;
    }
    this.#bounds[at] = bound;
    this.#items[at] = item;
  }
}
