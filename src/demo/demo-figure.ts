import type { Mesh } from '../mesh/mesh.ts';
import { buildHeron } from './heron.ts';
import { orderForPacking } from './pack-order.ts';
import { quantise } from './quantise.ts';

/** How many triangles the shipped figure is asked to have. */
export const DEMO_TRIANGLES = 280_000;

/** The figure as it is written to a file: on the packing grid and in packing order. */
export const makeDemoFigure = (triangles: number, seed?: number): Mesh =>
  orderForPacking(quantise(buildHeron(seed === undefined ? { triangles } : { triangles, seed })));
