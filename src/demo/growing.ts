/** A typed array that grows by doubling: for counts that are known only at the end. */
export class GrowingFloats {
  length = 0;
  #data = new Float64Array(4096);

  push3(x: number, y: number, z: number): void {
    if (this.length + 3 > this.#data.length) {
      const wider = new Float64Array(this.#data.length * 2);
      wider.set(this.#data);
      this.#data = wider;
    }
    this.#data[this.length++] = x;
    this.#data[this.length++] = y;
    this.#data[this.length++] = z;
  }

  get(i: number): number {
    return this.#data[i];
  }

  toArray(): Float64Array {
    return this.#data.slice(0, this.length);
  }
}
