import type { Process } from '../model/job.ts';

/** A way of printing with the clearances to start from. */
export type ProcessId = 'resin' | 'filament' | 'powder';

export interface ProcessCard {
  id: ProcessId;
  process: Process;
}

/**
 * Starting values per side, mm: common practice, within resin 0.1–0.3, filament 0.2–0.5, powder 0.2–0.6.
 * No standard holds clearance numbers (ISO/ASTM 52910:2018, §1.3), so each is a start for one's own printer.
 */
export const PROCESSES: readonly ProcessCard[] = [
  {
    id: 'resin',
    process: { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1.2, bedMm: [140, 85, 170] },
  },
  {
    id: 'filament',
    process: { name: 'filament', sideGapMm: 0.25, endGapMm: 0.5, minWallMm: 1.6, bedMm: [220, 220, 220] },
  },
  {
    id: 'powder',
    process: { name: 'powder', sideGapMm: 0.3, endGapMm: 0.5, minWallMm: 1.2, bedMm: [300, 300, 300] },
  },
];
