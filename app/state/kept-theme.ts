import type { Theme } from './bench-state.ts';

const KEY = 'pegwright-theme';

/** The light or dark a person chose before; the system's where none was, or where nothing may be kept. */
export function keptTheme(): Theme {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

export function keepTheme(theme: Theme): void {
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // A browser that keeps nothing still shows the chosen theme for this sitting.
  }
}
