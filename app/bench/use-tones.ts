import { useEffect, useState } from 'react';
import { useBench } from '../state/workbench.tsx';

/** The theme's colours that the scene draws with, read from the style sheet. */
export interface Tones {
  clay: string;
  pegged: string;
  socketed: string;
  gap: string;
  ink: string;
  focus: string;
}

const NAMES = ['clay', 'pegged', 'socketed', 'gap', 'ink', 'focus'] as const;

function readTones(): Tones {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(
    NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]),
  ) as unknown as Tones;
}

/** Tones of the theme now in force; they change with the page's own choice and with the system's. */
export function useTones(): Tones {
  const theme = useBench((s) => s.sitting.theme);
  const [tones, setTones] = useState(readTones);
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
    setTones(readTones());
    const system = matchMedia('(prefers-color-scheme: dark)');
    const reread = () => setTones(readTones());
    system.addEventListener('change', reread);
    return () => system.removeEventListener('change', reread);
  }, [theme]);
  return tones;
}
