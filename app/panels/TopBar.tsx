import { useState } from 'react';
import { Button, FileTrigger, Toolbar } from 'react-aria-components';
import type { Theme } from '../state/bench-state.ts';
import { canRedo, canUndo } from '../state/history.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Choice } from '../ui/Choice.tsx';
import { words } from '../words.ts';
import { ExportDialog } from './ExportDialog.tsx';
import './TopBar.css';

const THEMES = (Object.keys(words.themes) as Theme[]).map((id) => ({ id, text: words.themes[id] }));

/** The slim bar at the top: files, undo and redo, export, light or dark. */
export function TopBar() {
  const actions = useActions();
  const theme = useBench((s) => s.sitting.theme);
  const undoable = useBench((s) => canUndo(s.saved.history));
  const redoable = useBench((s) => canRedo(s.saved.history));
  const hasSculpt = useBench((s) => s.derived.summary !== null);
  const isSolid = useBench((s) => s.derived.summary?.solid ?? false);
  const [exporting, setExporting] = useState(false);
  return (
    <header className="top-bar">
      <h1>{words.appName}</h1>
      <Toolbar aria-label={words.appName}>
        <FileTrigger allowsMultiple onSelect={(files) => files && void actions.openFiles([...files])}>
          <Button>{words.open}</Button>
        </FileTrigger>
        <Button onPress={() => void actions.openDemo()}>{words.demo}</Button>
        <Button isDisabled={!hasSculpt} onPress={actions.saveJobFile}>
          {words.saveJob}
        </Button>
        <span className="bar-gap" aria-hidden="true" />
        <Button isDisabled={!undoable} onPress={actions.undo}>
          {words.undo}
        </Button>
        <Button isDisabled={!redoable} onPress={actions.redo}>
          {words.redo}
        </Button>
      </Toolbar>
      <div className="bar-end">
        <Choice
          label={words.theme}
          isLabelShown={false}
          options={THEMES}
          chosen={theme}
          onChoose={actions.setTheme}
        />
        <Button className="primary" isDisabled={!isSolid} onPress={() => setExporting(true)}>
          {words.export}
        </Button>
      </div>
      <ExportDialog isOpen={exporting} onClose={() => setExporting(false)} />
    </header>
  );
}
