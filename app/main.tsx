import '@fontsource/alegreya-sans/latin-400.css';
import '@fontsource/alegreya-sans/latin-500.css';
import '@fontsource/alegreya-sans/latin-700.css';
import '@fontsource/overpass-mono/latin-400.css';
import '@fontsource/overpass-mono/latin-600.css';
import './ui/theme.css';
import './ui/base.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { createStore } from 'zustand/vanilla';
import { demoJob } from '../src/index.ts';
import { createEngine } from '../src/worker/client.ts';
import { App } from './App.tsx';
import { createActions } from './state/actions.ts';
import { type BenchState, initialState } from './state/bench-state.ts';
import { browserSurroundings } from './state/browser-surroundings.ts';
import { keepTheme, keptTheme } from './state/kept-theme.ts';
import { browserShelf } from './state/shelf.ts';
import { WorkbenchProvider } from './state/workbench.tsx';
import { lexicon } from './words.ts';

const store = createStore<BenchState>(() => initialState(demoJob, keptTheme()));
const engine = createEngine();
const actions = createActions(store, engine, browserShelf, browserSurroundings);

document.documentElement.lang = lexicon.tag;
document.documentElement.dataset.theme = store.getState().sitting.theme;
store.subscribe((now, before) => {
  if (now.sitting.theme !== before.sitting.theme) keepTheme(now.sitting.theme);
});
// A piece of the page that cannot be fetched is told of where it would stand, and ends nothing else.
window.addEventListener('vite:preloadError', (event) => event.preventDefault());
window.addEventListener('pagehide', actions.saveNow);
document.addEventListener(
  'visibilitychange',
  () => document.visibilityState === 'hidden' && actions.saveNow(),
);

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <WorkbenchProvider value={{ store, actions }}>
      <App />
    </WorkbenchProvider>
  </StrictMode>,
);
void actions.start();
