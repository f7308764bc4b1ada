import { Queue } from '../../math/queue.ts';
import { add, dot, normalize, scale, type Vec3 } from '../../math/vec3.ts';
import type { Corners } from './corners.ts';
import { tiltBy } from './flat-turn.ts';
import { heightFloor, type Look, lookAlong, seeAlong } from './look.ts';
import { type BedAxes, NO_EXCESS } from './stands.ts';

export interface SoughtTurn {
  bedMm: Vec3;
  /** The turns to beat. */
  first: readonly [BedAxes, ...BedAxes[]];
  /** Turns that are better than the best by no more than this need not be found, mm, by what that has too much. */
  enoughMm: (overMm: number) => number;
  /** Directions that are looked along before it is left at what was found. */
  mostLooks: number;
}

export interface FoundTurn {
  axes: BedAxes;
  /** What the part has too much in this turn, measured on it, mm; not above `NO_EXCESS` where it fits, and then others were not sought. */
  overMm: number;
  /** In no turn whatever has it less too much than this, mm. */
  leastMm: number;
}

/**
 * The turn of all in which a part passes the bed least, or the first in which it fits.
 *
 * Best first over directions for one of the bed's axes: for each, the best turn about it is known exactly (`bestFlatTurn`).
 * A cell of directions, a triangle on the sphere, is dropped where its corners of the part cannot do better anywhere in
 * it, since tilting a chord by no more than the cell is wide leaves that much of it (`lowered`); else it is divided
 * (branch and bound: Land and Doig, *Econometrica* 28(3), 1960). What was dropped or is left over tells how much
 * better a turn that was not found can be.
 */
export function searchTurn(corners: Corners, sought: SoughtTurn): FoundTurn {
  // Most directions are dropped by the height alone where the bed's shortest side is the one that is upright.
  const upright = sought.bedMm.indexOf(Math.min(...sought.bedMm));
  const search = new Search(corners, rolled(sought.bedMm, upright), sought);
  for (const axes of sought.first) search.offer(rolled(axes, upright));
  search.divide();
  const { axes, overMm, leastMm } = search;
  return { axes: rolled(axes, 1 - upright), overMm, leastMm };
}

/** Three of a kind so that the one of this number comes last: each is as many places on. */
const rolled = <T>(three: readonly [T, T, T], last: number): [T, T, T] => {
  const at = (k: number) => three[(k + last + 4) % 3];
  return [at(0), at(1), at(2)];
};

/** How often a descent goes on with more corners, its steps each time, and the least of them (radians). */
const MOST_ROUNDS = 8;
const MOST_STEPS = 40;
const LEAST_STEP = 1e-6;
/** What rounding takes off the width of a cell. */
const SLIVER = 1e-12;

type Triangle = readonly [Vec3, Vec3, Vec3];

class Search {
  axes: BedAxes;
  overMm = Number.POSITIVE_INFINITY;
  /** Of cells that were dropped. */
  #droppedMm = Number.POSITIVE_INFINITY;
  readonly #cells = new Queue<Triangle>();
  readonly #corners: Corners;
  readonly #bedMm: Vec3;
  readonly #sought: SoughtTurn;

  constructor(corners: Corners, bedMm: Vec3, sought: SoughtTurn) {
    this.#corners = corners;
    this.#bedMm = bedMm;
    this.#sought = sought;
    [this.axes] = sought.first;
    for (const triangle of HALF_SPHERE) this.#cells.push(Number.NEGATIVE_INFINITY, triangle);
  }

  get leastMm(): number {
    return Math.min(this.overMm, this.#droppedMm, this.#cells.least);
  }

  /** Measures the part in a turn, and takes it if it is better. */
  offer(axes: BedAxes): void {
    const overMm = this.#corners.measure(axes, this.#bedMm);
    if (overMm < this.overMm) [this.axes, this.overMm] = [axes, overMm];
  }

  divide(): void {
    const { mostLooks } = this.#sought;
    for (let looks = 0; looks < mostLooks && this.overMm > NO_EXCESS; ) {
      if (this.#cells.least >= this.#goalMm) return;
      const cell = this.#cells.pop();
      if (cell === null) return;
      for (const part of quarters(cell.item)) {
        const boundMm = Math.max(cell.bound, this.#boundOf(part));
        if (boundMm < this.#goalMm) this.#cells.push(boundMm, part);
        else this.#droppedMm = Math.min(this.#droppedMm, boundMm);
        looks++;
      }
    }
  }

  /** What is not below this is not sought. */
  get #goalMm(): number {
    return this.overMm - this.#sought.enoughMm(this.overMm);
  }

  /** What the part has too much at least in any turn about any direction of a cell, mm. */
  #boundOf(cell: Triangle): number {
    const middle = normalize(add(cell[0], add(cell[1], cell[2])));
    const width = Math.acos(Math.min(1, ...cell.map((corner) => dot(middle, corner)))) + SLIVER;
    const tilt = tiltBy(width);
    const sight = seeAlong(middle, this.#corners);
    const floorMm = heightFloor(sight, this.#bedMm, tilt);
    if (floorMm >= this.#goalMm) return floorMm;
    const look = lookAlong(sight, this.#bedMm, tilt);
    if (look.overMm >= this.overMm) return look.floorMm;
    this.#descend(look, width / 2);
    // More corners may be known now.
    return lookAlong(seeAlong(middle, this.#corners), this.#bedMm, tilt).floorMm;
  }

  #lookAt(up: Vec3): Look {
    return lookAlong(seeAlong(up, this.#corners), this.#bedMm, NO_TILT);
  }

  /** Goes on from a direction to better ones beside it, and measures there, until no more corners come to be known. */
  #descend(from: Look, width: number): void {
    let look = from;
    for (let round = 0; round < MOST_ROUNDS && look.overMm < this.overMm; round++) {
      look = this.#settled(look, width);
      const { count } = this.#corners;
      this.offer(look.axes);
      if (this.overMm <= NO_EXCESS || this.#corners.count === count) return;
      look = this.#lookAt(look.axes[2]);
    }
  }

  /** Where no direction a step aside is better for the known corners (compass search: Hooke and Jeeves, *J. ACM* 8(2), 1961). */
  #settled(from: Look, width: number): Look {
    let look = from;
    let step = width;
    for (let steps = 0; steps < MOST_STEPS && step > LEAST_STEP; steps++) {
      const better = this.#better(look, step);
      if (better) look = better;
      else step /= 2;
    }
    return look;
  }

  /** The first direction beside one, eight ways round, that the known corners do better in. */
  #better({ axes: [right, rear, up], overMm }: Look, step: number): Look | null {
    for (let way = 0; way < 8; way++) {
      const angle = (way * Math.PI) / 4;
      const aside = add(scale(right, step * Math.cos(angle)), scale(rear, step * Math.sin(angle)));
      const look = this.#lookAt(normalize(add(up, aside)));
      if (look.overMm < overMm) return look;
    }
    return null;
  }
}

const NO_TILT = tiltBy(0);

/** Of a direction and its opposite one will do: the upper faces of an octahedron. */
const HALF_SPHERE: Triangle[] = [0, 1, 2, 3].map((k) => {
  const around = (quarter: number): Vec3 => [[1, 0, -1, 0][quarter % 4], [0, 1, 0, -1][quarter % 4], 0];
  return [around(k), around(k + 1), [0, 0, 1]];
});

function quarters([a, b, c]: Triangle): Triangle[] {
  const [ab, bc, ca] = [normalize(add(a, b)), normalize(add(b, c)), normalize(add(c, a))];
  return [
    [a, ab, ca],
    [ab, b, bc],
    [ca, bc, c],
    [ab, bc, ca],
  ];
}
