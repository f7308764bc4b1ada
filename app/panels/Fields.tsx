import { useState } from 'react';
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import type { Tab as TabName } from '../state/bench-state.ts';
import { useActions, useBench, useBenchStore, useSeam } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { PegFields } from './PegFields.tsx';
import { ProcessFields } from './ProcessFields.tsx';
import { SculptFields } from './SculptFields.tsx';
import { SeamFields } from './SeamFields.tsx';
import './Fields.css';

const TABS = Object.keys(words.tabs) as TabName[];

/** The fields of what is chosen; what was typed for one seam or peg is never taken for another. */
export function Fields() {
  const actions = useActions();
  const tab = useBench((s) => s.sitting.tab);
  const jointId = useBench((s) => s.sitting.jointId);
  const seamId = useBench((s) => s.sitting.seamId);
  const place = useSeam(seamId, ({ joints }) => joints.findIndex(({ id }) => id === jointId));
  const store = useBenchStore();
  const [mirrored, setMirrored] = useState<string | null>(null);
  const hasJoint = jointId !== null && place !== null && place >= 0;
  return (
    <Tabs
      className="panel fields"
      selectedKey={tab}
      onSelectionChange={(key) => actions.sit({ tab: key as TabName })}
    >
      <TabList aria-label={words.fieldTabs}>
        {TABS.map((name) => (
          <Tab key={name} id={name}>
            {name === 'peg' && hasJoint ? words.peg(place + 1) : words.tabs[name]}
          </Tab>
        ))}
      </TabList>
      <TabPanel id="sculpt">
        <SculptFields />
      </TabPanel>
      <TabPanel id="seam">
        {seamId !== null && place !== null ? (
          <SeamFields
            key={seamId}
            seamId={seamId}
            isFresh={mirrored === seamId}
            onMirrored={() => setMirrored(store.getState().sitting.seamId)}
          />
        ) : (
          <p className="soft">{words.noSeam}</p>
        )}
      </TabPanel>
      <TabPanel id="peg">
        {seamId !== null && hasJoint ? (
          <PegFields key={`${seamId}/${jointId}`} seamId={seamId} jointId={jointId} />
        ) : (
          <p className="soft">{words.noPeg}</p>
        )}
      </TabPanel>
      <TabPanel id="process">
        <ProcessFields />
      </TabPanel>
    </Tabs>
  );
}
