import type { KeyboardEvent } from 'react';
import { arrowDirection } from './peg-drag.ts';
import { TUNING } from './tuning.ts';
import type { Viewport } from './use-viewport.ts';

/** Ways to move over a drawing that is only read: drag or arrows pan, plus and minus zoom, 0 or a double click fits. */
export function useSectionInput(port: Viewport) {
  return {
    tabIndex: 0,
    onPointerDown: port.startPan,
    onPointerMove: port.movePan,
    onPointerUp: port.endPan,
    onLostPointerCapture: port.endPan,
    onDoubleClick: port.fit,
    onKeyDown(event: KeyboardEvent) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const arrow = arrowDirection(event.key);
      if (arrow) port.pan(-arrow[0] * TUNING.keyPanPx, arrow[1] * TUNING.keyPanPx);
      else if (event.key === '+' || event.key === '=') port.zoom(TUNING.keyZoom);
      else if (event.key === '-') port.zoom(1 / TUNING.keyZoom);
      else if (event.key === '0') port.fit();
      else return;
      event.preventDefault();
    },
  };
}
