import type { Manifold } from 'manifold-3d';
import { type KernelDoubt, PegwrightError } from '../errors.ts';
import type { Plane } from '../math/plane.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { meshOf, type Part, type Patch, type PatchOf, partOf, trianglesOf } from '../mesh/part/part.ts';
import { allPositions, NOTHING_ADDED } from '../mesh/part/vertices.ts';
import { LIMITS } from '../model/limits.ts';
import type { Step } from '../progress.ts';
import type { Kernel } from './load.ts';
import { type Own, scoped } from './scope.ts';

/** What a triangle run of a kernel result came from, by the id it was given. */
type Origins = Map<number, PatchOf>;

/**
 * The part as a kernel solid; its patches become runs, so that a result tells
 * what each of its triangles came from.
 * @throws PegwrightError `kernel-refused` when the kernel does not take it.
 */
export function toKernel(kernel: Kernel, own: Own, part: Part, origins: Origins, step: Step): Manifold {
  const firstId = kernel.Manifold.reserveIDs(part.patches.length);
  const runIndex = new Uint32Array(part.patches.length + 1);
  part.patches.forEach((patch, i) => {
    origins.set(firstId + i, patch.of);
    runIndex[i + 1] = runIndex[i] + patch.triangles.length;
  });
  const triVerts = trianglesOf(part);
  const count = triVerts.length / 3;
  if (count > LIMITS.kernelTriangles) {
    const doubt = { is: 'too-big', triangles: count, limit: LIMITS.kernelTriangles } as const;
    throw new PegwrightError('kernel-refused', { step, doubt });
  }
  const mesh = new kernel.Mesh({
    numProp: 3,
    vertProperties: allPositions(part),
    triVerts,
    runIndex,
    runOriginalID: Uint32Array.from(part.patches, (_, i) => firstId + i),
    // A face of its own for every triangle, or the kernel would simplify where neighbours lie in one plane.
    faceID: wholeNumbers(count),
  });
  const solid = own(refusedAs(step, () => kernel.Manifold.ofMesh(mesh)));
  const status = solid.status();
  if (status !== 'NoError') {
    throw new PegwrightError('kernel-refused', { step, doubt: doubtSaid(status) });
  }
  return solid;
}

function wholeNumbers(count: number): Uint32Array {
  const numbers = new Uint32Array(count);
  for (let i = 0; i < count; i++) numbers[i] = i;
  return numbers;
}

/**
 * Kernel failures become a refusal that names the step. After a trap the whole instance is
 * finished, which is another matter: `kernel-lost` tells the caller to start anew.
 */
function refusedAs<T>(step: Step, call: () => T): T {
  try {
    return call();
  } catch (thrown) {
    if (thrown instanceof WebAssembly.RuntimeError) throw new PegwrightError('kernel-lost', { step });
    const words = thrown instanceof Error ? thrown.message : String(thrown);
    throw new PegwrightError('kernel-refused', { step, doubt: doubtSaid(words) });
  }
}

/** What the kernel says is wrong: as a status or, of what it is not built from, as an error's message. */
const doubtSaid = (words: string): KernelDoubt =>
  /not ?manifold/i.test(words) ? { is: 'not-manifold' } : { is: 'said', words };

/** Reads a solid back; runs of unknown origin (a cutting plane's) are labelled `unknown`. */
function fromKernel(solid: Manifold, origins: Origins, unknown: PatchOf, step: Step): Part {
  const mesh = refusedAs(step, () => solid.getMesh());
  const byOrigin = new Map<PatchOf, Uint32Array[]>();
  mesh.runOriginalID.forEach((id, run) => {
    const of = origins.get(id) ?? unknown;
    const triangles = mesh.triVerts.slice(mesh.runIndex[run], mesh.runIndex[run + 1]);
    byOrigin.set(of, [...(byOrigin.get(of) ?? []), triangles]);
  });
  const patches: Patch[] = [...byOrigin].map(([of, pieces]) => ({ of, triangles: joinIndices(pieces) }));
  const skinFirst = patches.sort((a, b) => rank(a.of) - rank(b.of));
  return { positions: mesh.vertProperties, added: NOTHING_ADDED, patches: skinFirst };
}

const rank = (of: PatchOf): number => (of.kind === 'skin' ? 0 : of.kind === 'face' ? 1 : 2);

/** Both sides of a part cut by a plane, by the kernel's boolean. An empty side is an empty part. */
export function kernelCut(
  kernel: Kernel,
  part: Part,
  plane: Plane,
  seamId: string,
): { front: Part; back: Part } {
  return scoped((own) => {
    const origins: Origins = new Map();
    const solid = toKernel(kernel, own, part, origins, 'cutting');
    const face: PatchOf = { kind: 'face', seamId, facet: 0 };
    const [front, back] = refusedAs('cutting', () => solid.splitByPlane([...plane.normal], plane.offset));
    own(front);
    own(back);
    return {
      front: fromKernel(front, origins, face, 'cutting'),
      back: fromKernel(back, origins, face, 'cutting'),
    };
  });
}

/** A part divided by the surface of a closed body, which knows what its faces are: what lies within it is the front. */
export function kernelSplit(kernel: Kernel, part: Part, body: Part): { front: Part; back: Part } {
  return scoped((own) => {
    const origins: Origins = new Map();
    const [solid, cutter] = [part, body].map((one) => toKernel(kernel, own, one, origins, 'cutting'));
    const [front, back] = refusedAs('cutting', () => solid.split(cutter));
    own(front);
    own(back);
    const sideOf = (side: Manifold) => fromKernel(side, origins, { kind: 'skin' }, 'cutting');
    return { front: sideOf(front), back: sideOf(back) };
  });
}

/**
 * The part less another, or less what of that lies in front of a plane: then the plane's face is a facet of the seam's.
 * An empty part where nothing is left.
 */
export function kernelTrim(kernel: Kernel, part: Part, by: Part, seamId: string, from: Plane | null): Part {
  return scoped((own) => {
    const origins: Origins = new Map();
    const solid = toKernel(kernel, own, part, origins, 'cutting');
    const other = toKernel(kernel, own, by, origins, 'cutting');
    const taken = from
      ? own(refusedAs('cutting', () => other.trimByPlane([...from.normal], from.offset)))
      : other;
    const left = own(refusedAs('cutting', () => solid.subtract(taken)));
    return fromKernel(left, origins, { kind: 'face', seamId, facet: 0 }, 'cutting');
  });
}

/** What a part has in common with a closed body in front of a plane, whose face there is a facet of the seam's. */
export function kernelCommon(kernel: Kernel, part: Part, body: Part, seamId: string, from: Plane): Part {
  return scoped((own) => {
    const origins: Origins = new Map();
    const [solid, other] = [part, body].map((one) => toKernel(kernel, own, one, origins, 'cutting'));
    const common = own(refusedAs('cutting', () => solid.intersect(other)));
    const ahead = own(refusedAs('cutting', () => common.trimByPlane([...from.normal], from.offset)));
    return fromKernel(ahead, origins, { kind: 'face', seamId, facet: 0 }, 'cutting');
  });
}

/** The part with another body added. */
export function kernelAdd(kernel: Kernel, part: Part, body: Part): Part {
  return scoped((own) => {
    const origins: Origins = new Map();
    const [solid, other] = [part, body].map((one) => toKernel(kernel, own, one, origins, 'cutting'));
    return fromKernel(
      own(refusedAs('cutting', () => solid.add(other))),
      origins,
      { kind: 'skin' },
      'cutting',
    );
  });
}

/** A closed joint body and what it is. */
export interface KernelJoint {
  of: PatchOf & { kind: 'joint' };
  body: Mesh;
}

/** part ∪ pegs − sockets, in one batch. */
export function kernelJoin(kernel: Kernel, part: Part, joints: readonly KernelJoint[]): Part {
  return scoped((own) => {
    const origins: Origins = new Map();
    const solid = (p: Part) => toKernel(kernel, own, p, origins, 'jointing');
    const bodies = joints.map(({ of, body }) => ({
      does: of.does,
      solid: solid({ ...partOf(body), patches: [{ of, triangles: body.triangles }] }),
    }));
    const of = (does: 'add' | 'take') => bodies.filter((b) => b.does === does).map((b) => b.solid);
    const { union, difference } = kernel.Manifold;
    const pegged = own(refusedAs('jointing', () => union([solid(part), ...of('add')])));
    const done = own(refusedAs('jointing', () => difference([pegged, ...of('take')])));
    return fromKernel(done, origins, { kind: 'skin' }, 'jointing');
  });
}

/** The union of closed meshes, each of which may have hollows. */
export function kernelUnite(kernel: Kernel, meshes: readonly Mesh[]): Mesh {
  return scoped((own) => {
    const solids = meshes.map((mesh) => toKernel(kernel, own, partOf(mesh), new Map(), 'mending'));
    const union = own(refusedAs('mending', () => kernel.Manifold.union(solids)));
    return meshOf(fromKernel(union, new Map(), { kind: 'skin' }, 'mending'));
  });
}
