import { OrbitControls } from '@react-three/drei';
import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useRef } from 'react';
import { type PerspectiveCamera, Vector3 } from 'three';
import { notice, type Vec3 } from '../../src/index.ts';
import type { BenchState } from '../state/bench-state.ts';
import { shownParts } from '../state/parts.ts';
import { useActions, useBench, useBenchStore } from '../state/workbench.tsx';
import { placeAcross } from '../tools/line-tool.ts';
import { bedBox } from './bed-box.ts';
import { fittedDistance } from './fit.ts';
import { pickEdge, pickPoint } from './pick.ts';
import {
  type Ball,
  ballAround,
  pulledBounds,
  type Stage,
  toFile,
  toScene,
  withPlaces,
} from './scene-space.ts';
import type { Viewfinder } from './viewfinder.ts';

/** Distance of a close look, as a share of the fitted distance. */
const CLOSE_LOOK = 0.4;
/** Share of the present line of sight kept when a section is looked at. */
const SLANT = 0.35;
/** How long the camera takes to get somewhere, s. */
const TRAVEL_S = 0.35;
/** A press that goes no farther than this is a click, CSS px. */
const CLICK_PX = 4;
/** How far off the camera may go, in radii of the figure with its parts pulled apart altogether. */
const FARTHEST = 20;

interface Journey {
  from: { eye: Vector3; target: Vector3 };
  to: { eye: Vector3; target: Vector3 };
  t: number;
}

interface CameraWorkProps {
  stage: Stage;
  /** The ball around it. */
  figure: Ball;
  viewfinder: Viewfinder;
}

/** The box around what stands on the bench, the build volume among it, its parts pulled as they are now or all by `explode`. */
function shownBounds(
  state: BenchState,
  stage: Stage,
  figure: Ball,
  explode = state.sitting.explode,
): Stage['boundsMm'] {
  const { glimpse, view } = state.derived;
  const parts = glimpse === null ? (view?.parts ?? []) : [];
  const shown = shownParts(state);
  const bounds = pulledBounds(stage.boundsMm, parts, { explode, apart: state.sitting.apart }, figure, shown);
  return glimpse === null ? withPlaces(bounds, bedBox(state) ?? []) : bounds;
}

/** Orbiting, fitting, flying to findings, and the link from the scene's camera to the page around it. */
export function CameraWork({ stage, figure, viewfinder }: CameraWorkProps) {
  const { camera, gl, scene, size, invalidate, controls } = useThree();
  const fitCount = useBench((s) => s.sitting.fitCount);
  const lookAt = useBench((s) => s.sitting.lookAt);
  const clipped = useBench((s) => s.sitting.clipped);
  const seeking = useBench((s) => s.sitting.seeking);
  const isDrawing = useBench((s) => s.sitting.drawing !== null);
  const reach = useBench((s) => ballAround({ ...stage, boundsMm: shownBounds(s, stage, figure, 1) }).radius);
  const store = useBenchStore();
  const actions = useActions();
  const pressedAt = useRef<[number, number]>([0, 0]);
  const journey = useRef<Journey | null>(null);
  const orbit = controls as unknown as { target: Vector3; update(): void } | null;

  useEffect(
    () => viewfinder.connect(camera, gl.domElement, invalidate, (x, y) => pickEdge(gl, scene, camera, x, y)),
    [viewfinder, camera, gl, scene, invalidate],
  );
  useFrame((_, delta) => {
    if (journey.current && orbit) {
      const { from, to } = journey.current;
      journey.current.t = Math.min(1, journey.current.t + Math.min(delta, 0.05) / TRAVEL_S);
      const eased = 1 - (1 - journey.current.t) ** 3;
      camera.position.lerpVectors(from.eye, to.eye, eased);
      orbit.target.lerpVectors(from.target, to.target, eased);
      orbit.update();
      if (journey.current.t >= 1) journey.current = null;
      else invalidate();
    }
    viewfinder.place();
  });

  /** How far to stand from the middle of a box to see all of it. */
  const distanceTo = (box: Stage['boundsMm']) =>
    fittedDistance(camera as PerspectiveCamera, size.width / size.height, facing(), box);
  const closeLook = () => distanceTo(stage.boundsMm) * CLOSE_LOOK;
  const facing = () =>
    camera.position
      .clone()
      .sub(orbit?.target ?? new Vector3())
      .normalize();
  const travel = (target: Vector3, distance: number, atOnce: boolean, direction = facing()) => {
    if (orbit === null) return;
    const to = { eye: target.clone().addScaledVector(direction, distance), target };
    const still = atOnce || matchMedia('(prefers-reduced-motion: reduce)').matches;
    journey.current = {
      from: { eye: camera.position.clone(), target: orbit.target.clone() },
      to,
      t: still ? 1 : 0,
    };
    invalidate();
  };

  useEffect(() => {
    const lens = camera as PerspectiveCamera;
    lens.near = figure.radius / 100;
    lens.far = reach * FARTHEST * 3;
    lens.updateProjectionMatrix();
    invalidate();
  }, [camera, figure, reach, invalidate]);

  // Fits what is there when asked to, parts pulled apart among it, and at once when another figure is put on the bench.
  const fitted = useRef<Ball | null>(null);
  useEffect(() => {
    if (orbit === null) return;
    const box = shownBounds(store.getState(), stage, figure);
    const { centre } = ballAround({ ...stage, boundsMm: box });
    travel(new Vector3(...centre), distanceTo(box), fitted.current !== figure);
    fitted.current = figure;
  }, [fitCount, figure, orbit]);

  useEffect(() => {
    if (lookAt === null) return;
    const direction = lookAt.from ? asideFrom(lookAt.from) : facing();
    travel(new Vector3(...toScene(stage, lookAt.at)), closeLook(), false, direction);
  }, [lookAt]);

  /** A direction to look from, with a little left of where the eye is now, so that depth shows. */
  const asideFrom = (from: Vec3) => new Vector3(...from).addScaledVector(facing(), SLANT).normalize();

  // A clipped figure is looked at from its open side, a little aslant so that the depth behind the cut shows.
  useEffect(() => {
    const section = store.getState().derived.view?.section;
    if (!clipped || !section) return;
    const aslant = facing();
    const normal = new Vector3(...section.frame.n);
    if (normal.dot(aslant) < 0) normal.negate();
    const direction = normal.addScaledVector(aslant, SLANT).normalize();
    travel(new Vector3(...toScene(stage, section.frame.origin)), closeLook(), false, direction);
  }, [clipped]);

  useEffect(() => {
    const pointUnder = ({ clientX, clientY }: MouseEvent): Vec3 | null => {
      const box = gl.domElement.getBoundingClientRect();
      return pickPoint(gl, scene, camera, clientX - box.left, clientY - box.top);
    };
    const centreOn = (event: MouseEvent) => {
      // The second click of two is the last point of a line that was being drawn.
      if (isDrawing) return actions.line.finish();
      const at = pointUnder(event);
      if (at && orbit) travel(new Vector3(...at), camera.position.distanceTo(orbit.target), false);
    };
    // A click that ends a turn of the view is none.
    const press = (event: MouseEvent) => {
      pressedAt.current = [event.clientX, event.clientY];
    };
    const isTurned = ({ clientX, clientY }: MouseEvent) =>
      Math.hypot(clientX - pressedAt.current[0], clientY - pressedAt.current[1]) > CLICK_PX;
    /** A point of a line: on an edge of the figure nearby, unless Shift is held, or where it is clicked; beside it in the plane through its middle. */
    const addPoint = (event: MouseEvent) => {
      if (!isDrawing || isTurned(event)) return;
      const towardsEye = camera.getWorldDirection(new Vector3()).negate().toArray();
      const along = store.getState().sitting.drawing?.along ?? towardsEye;
      const ray = viewfinder.ray(event);
      const edge = event.shiftKey ? null : viewfinder.edgeNear(event);
      const at = edge ?? pointUnder(event) ?? (ray && placeAcross(ray, along, figure.centre));
      if (at) actions.line.add(toFile(stage, at), towardsEye);
    };
    const seek = (event: MouseEvent) => {
      if (!seeking || isTurned(event)) return;
      const at = pointUnder(event);
      if (at === null) {
        actions.say(notice('beside-figure'));
        return;
      }
      const { x: ex, y: ey, z: ez } = camera.position;
      const inward: Vec3 = [at[0] - ex, at[1] - ey, at[2] - ez];
      actions.goNarrowest({ at: toFile(stage, at), inward });
    };
    gl.domElement.addEventListener('pointerdown', press);
    gl.domElement.addEventListener('click', seek);
    gl.domElement.addEventListener('click', addPoint);
    gl.domElement.addEventListener('dblclick', centreOn);
    return () => {
      gl.domElement.removeEventListener('pointerdown', press);
      gl.domElement.removeEventListener('click', seek);
      gl.domElement.removeEventListener('click', addPoint);
      gl.domElement.removeEventListener('dblclick', centreOn);
    };
  });

  return (
    <OrbitControls
      makeDefault
      enableDamping
      dampingFactor={0.18}
      minDistance={figure.radius * 0.05}
      maxDistance={reach * FARTHEST}
    />
  );
}
