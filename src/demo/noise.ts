import { scramble } from './prng.ts';

/** Smooth noise of three coordinates, about -1…1, zero on average, with features one unit apart. */
export type Noise = (x: number, y: number, z: number) => number;

const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);
const mix = (a: number, b: number, t: number): number => a + (b - a) * t;

/** Gradient noise on the integer lattice; the gradients are the twelve edge directions of a cube. */
export function makeNoise(seed: number): Noise {
  const table = new Uint8Array(512);
  for (let i = 0; i < 256; i++) table[i] = table[i + 256] = scramble(seed * 977 + i) & 255;
  const corner = (ix: number, iy: number, iz: number, x: number, y: number, z: number): number => {
    const h = table[table[table[ix & 255] + (iy & 255)] + (iz & 255)] % 12;
    const a = h < 8 ? x : y;
    const b = h < 4 ? y : z;
    return (h & 1 ? -a : a) + (h & 2 ? -b : b);
  };
  return (x, y, z) => {
    const ix = Math.floor(x);
    const iy = Math.floor(y);
    const iz = Math.floor(z);
    const fx = x - ix;
    const fy = y - iy;
    const fz = z - iz;
    const u = fade(fx);
    const v = fade(fy);
    const low = mix(
      mix(corner(ix, iy, iz, fx, fy, fz), corner(ix + 1, iy, iz, fx - 1, fy, fz), u),
      mix(corner(ix, iy + 1, iz, fx, fy - 1, fz), corner(ix + 1, iy + 1, iz, fx - 1, fy - 1, fz), u),
      v,
    );
    const high = mix(
      mix(corner(ix, iy, iz + 1, fx, fy, fz - 1), corner(ix + 1, iy, iz + 1, fx - 1, fy, fz - 1), u),
      mix(
        corner(ix, iy + 1, iz + 1, fx, fy - 1, fz - 1),
        corner(ix + 1, iy + 1, iz + 1, fx - 1, fy - 1, fz - 1),
        u,
      ),
      v,
    );
    return mix(low, high, fade(fz));
  };
}

/**
 * Octaves of noise from features `coarsestMm` apart down to `finestMm`, each half as high as the one
 * before: what the mesh cannot carry is left out rather than sampled badly.
 */
export function makeOctaves(noise: Noise, coarsestMm: number, finestMm: number): Noise {
  const scales: number[] = [];
  for (let size = coarsestMm; size >= finestMm && scales.length < 8; size /= 2) scales.push(1 / size);
  return (x, y, z) => {
    let sum = 0;
    let height = 1;
    for (const s of scales) {
      sum += height * noise(x * s, y * s + 17.3 * s, z * s);
      height *= 0.5;
    }
    return sum;
  };
}
