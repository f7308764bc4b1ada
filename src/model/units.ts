/** Length units a sculpt's numbers can be in, as millimetres each (the unit list of the 3MF Core Specification 1.4.0, §3.4). */
export const MM_PER_UNIT = {
  micron: 0.001,
  mm: 1,
  cm: 10,
  inch: 25.4,
  foot: 304.8,
  m: 1000,
} as const;

export type Unit = keyof typeof MM_PER_UNIT;
export const UNITS = Object.keys(MM_PER_UNIT) as Unit[];
