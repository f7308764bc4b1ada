import { demoJob } from '../../src/index.ts';
import type { Surroundings } from './ports.ts';
import { browserTabLock } from './tab-lock.ts';

/** Long enough for the browser to have begun reading a download. */
const RELEASE_AFTER_MS = 30_000;

/** The browser around the page: the demo's file from the page's own origin, and downloads. */
export const browserSurroundings: Surroundings = {
  tabs: browserTabLock(),
  async fetchDemo() {
    const response = await fetch(`${import.meta.env.BASE_URL}demo/${demoJob.sculpt.file}`);
    if (!response.ok) throw new Error(`the demo figure answered ${response.status}`);
    return response.blob();
  },
  download(name, file) {
    const url = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = url;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), RELEASE_AFTER_MS);
  },
};
