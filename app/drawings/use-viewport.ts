import {
  type PointerEvent,
  type RefObject,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { PointerPlace } from '../ui/pointer-place.ts';
import type { Vec2 } from './engine.ts';
import { TUNING } from './tuning.ts';
import { panBy, type Size, type View, zoomAt } from './view.ts';

/** A drawing's panel: its size, its view, and the ways to move it. */
export interface Viewport {
  ref: RefObject<SVGSVGElement | null>;
  size: Size;
  /** False until the panel has been measured: nothing can be drawn before. */
  ready: boolean;
  view: View;
  /** Back to the fitted view, which follows the panel's size from then on. */
  fit(): void;
  zoom(factor: number, at?: Vec2): void;
  pan(dx: number, dy: number): void;
  /** Screen point of a pointer event, px from the drawing's corner. */
  point(event: PointerPlace): Vec2;
  startPan(event: PointerEvent<SVGSVGElement>): void;
  /** True while a pan is on. */
  movePan(event: PointerEvent<SVGSVGElement>): boolean;
  /** Ends a pan: whether one was on, and whether it was only a click. */
  endPan(): { panned: boolean; click: boolean };
}

/** Keeps the view of a drawing: fitted until a person zooms or pans. `fitted` is the same function while it fits alike. */
export function useViewport(fitted: (size: Size) => View): Viewport {
  const ref = useRef<SVGSVGElement>(null);
  const size = useSize(ref);
  const [manual, setManual] = useState<View | null>(null);
  const view = useMemo(() => manual ?? fitted(size), [manual, fitted, size]);
  const latest = useRef(view);
  useLayoutEffect(() => {
    latest.current = view;
  });
  const press = useRef<{ start: Vec2; last: Vec2; moved: boolean } | null>(null);

  // The panel stays where it is under a hand: asking at every move where that is would lay the page out twice.
  const box = useRef<DOMRect | null>(null);
  const point = useCallback((event: PointerPlace): Vec2 => {
    if (event.type !== 'pointermove' || box.current === null)
      box.current = ref.current?.getBoundingClientRect() ?? null;
    return [event.clientX - (box.current?.left ?? 0), event.clientY - (box.current?.top ?? 0)];
  }, []);
  useWheelZoom(ref, (event) => {
    const step = event.deltaMode === 1 ? event.deltaY * 16 : event.deltaY;
    setManual(zoomAt(latest.current, point(event), Math.exp(-step * TUNING.wheelZoom)));
  });

  return {
    ref,
    size,
    ready: size.width > 0 && size.height > 0,
    view,
    point,
    fit: () => setManual(null),
    zoom: (factor, at = [size.width / 2, size.height / 2]) => setManual(zoomAt(view, at, factor)),
    pan: (dx, dy) => setManual(panBy(view, dx, dy)),
    startPan(event) {
      ref.current?.setPointerCapture(event.pointerId);
      press.current = { start: point(event), last: point(event), moved: false };
    },
    movePan(event) {
      const p = press.current;
      if (!p) return false;
      const now = point(event);
      p.moved ||= Math.hypot(now[0] - p.start[0], now[1] - p.start[1]) > TUNING.clickPx;
      if (p.moved) {
        const [dx, dy] = [now[0] - p.last[0], now[1] - p.last[1]];
        setManual(panBy(latest.current, dx, dy));
        p.last = now;
      }
      return true;
    },
    endPan() {
      const p = press.current;
      press.current = null;
      return { panned: p !== null, click: p !== null && !p.moved };
    },
  };
}

/** The element's size, followed as its panel changes. */
function useSize(ref: RefObject<SVGSVGElement | null>): Size {
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const measure = () => {
      const { width, height } = element.getBoundingClientRect();
      setSize((old) => (old.width === width && old.height === height ? old : { width, height }));
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}

/** A wheel listener of our own: the page must not scroll, and React's is passive. */
function useWheelZoom(ref: RefObject<SVGSVGElement | null>, onWheel: (event: WheelEvent) => void): void {
  const handler = useRef(onWheel);
  useLayoutEffect(() => {
    handler.current = onWheel;
  });
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const listen = (event: WheelEvent) => {
      event.preventDefault();
      handler.current(event);
    };
    element.addEventListener('wheel', listen, { passive: false });
    return () => element.removeEventListener('wheel', listen);
  }, [ref]);
}
