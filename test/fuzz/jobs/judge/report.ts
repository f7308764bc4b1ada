import type { Point } from './vectors.ts';

/** What the judge reads of the report that `make` prints. */
export interface Report {
  parts: {
    name: string;
    file: string;
    closed: boolean;
    triangles: number;
    volumeMm3: number;
    shells: number;
    proved: boolean | null;
  }[];
  seams: { id: string; way: string; pegs: ReportedPeg[] }[];
  volume: { sculptMm3: number; residualMm3: number };
  movedMm: Point;
  findings: Told[];
}

export interface ReportedPeg {
  at: Point;
  widthMm: number;
  heightMm: number;
  lengthMm: number;
  draftDeg: number;
  edgeRadiusMm: number;
  way: 'local' | 'collar' | 'kernel';
  axis: Point;
  asked: { sideGapMm: number; endGapMm: number };
  wallMm: { min: number };
}

export interface Told {
  code: string;
  severity: string;
  message: string;
  seamId?: string;
  pegIndex?: number;
}
