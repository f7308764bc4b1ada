import type { DisplayMesh } from '../mesh/display.ts';
import type { Mesh } from '../mesh/mesh.ts';
import type { FaceResult } from '../pipeline/evaluation.ts';
import type { WallContour } from '../seam/wall-contours.ts';
import type { EvaluationView, SentView } from './protocol.ts';

/** The faces of a seam that are sent once. */
interface Faces {
  facets: readonly Pick<FaceResult, 'outlines' | 'uncut'>[];
  contours: WallContour[][];
}

/** What the page holds of the view it was sent last, by the keys that the worker gave it. */
export interface Held {
  keys(): string[];
  /** A view with what was left out of it put in. What it does not have is held no more. */
  completed(sent: SentView): EvaluationView;
}

export function createHeld(): Held {
  let skins = new Map<string, DisplayMesh>();
  let lids = new Map<string, Mesh>();
  let faces = new Map<string, Faces>();
  return {
    keys: () => [skins, lids, faces].flatMap((held) => [...held.keys()]),
    completed({ faceKeys, ...view }) {
      const [newSkins, newLids, newFaces] = [new Map(skins), new Map(lids), new Map(faces)];
      for (const { skins: own, lid } of view.parts) {
        for (const { key, mesh } of own) if (mesh) newSkins.set(key, mesh);
        if (lid.mesh) newLids.set(lid.key, lid.mesh);
      }
      for (const { id, facets } of view.seams) {
        const contours = view.contours[id];
        if (contours) newFaces.set(faceKeys[id], { facets, contours });
      }
      const parts = view.parts.map((part) => ({
        ...part,
        skins: part.skins.map(({ key }) => ({ key, mesh: newSkins.get(key) ?? null })),
        lid: { key: part.lid.key, mesh: newLids.get(part.lid.key) ?? null },
      }));
      const seams = view.seams.map((seam) => {
        const known = newFaces.get(faceKeys[seam.id])?.facets;
        const facets = seam.facets.map((face, i) => {
          const { outlines, uncut } = known?.[i] ?? face;
          return { ...face, outlines, uncut };
        });
        return { ...seam, facets };
      });
      const contours = Object.fromEntries(
        view.seams.map(({ id }) => [id, newFaces.get(faceKeys[id])?.contours ?? []]),
      );
      skins = only(
        newSkins,
        parts.flatMap((part) => part.skins.map(({ key }) => key)),
      );
      lids = only(
        newLids,
        parts.map(({ lid }) => lid.key),
      );
      faces = only(newFaces, Object.values(faceKeys));
      return { ...view, parts, seams, contours };
    },
  };
}

const only = <T>(held: ReadonlyMap<string, T>, keys: readonly string[]): Map<string, T> =>
  new Map([...held].filter(([key]) => keys.includes(key)));
