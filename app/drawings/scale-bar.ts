/** A scale bar of round length. */
export interface ScaleBarChoice {
  mm: number;
  px: number;
}

/** The longest of 1, 2, 5 × a power of ten mm that is no wider than `maxPx`. */
export function chooseScaleBar(pxPerMm: number, maxPx: number): ScaleBarChoice {
  const most = maxPx / pxPerMm;
  const power = Math.floor(Math.log10(most) + 1e-9);
  const lead = most / 10 ** power;
  const digit = lead >= 5 - 1e-9 ? 5 : lead >= 2 - 1e-9 ? 2 : 1;
  const mm = Number(`${digit}e${power}`);
  return { mm, px: mm * pxPerMm };
}
