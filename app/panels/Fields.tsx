import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import { words } from '../messages.ts';
import { jobOf, type Tab as TabName } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { PegFields } from './PegFields.tsx';
import { ProcessFields } from './ProcessFields.tsx';
import { SculptFields } from './SculptFields.tsx';
import { SeamFields } from './SeamFields.tsx';

const TABS = Object.keys(words.tabs) as TabName[];

/** The fields of what is chosen. */
export function Fields() {
  const actions = useActions();
  const { tab, pegIndex } = useBench((s) => s.sitting);
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const peg = pegIndex === null ? undefined : seam?.pegs[pegIndex];
  return (
    <Tabs
      className="panel fields"
      selectedKey={tab}
      onSelectionChange={(key) => actions.sit({ tab: key as TabName })}
    >
      <TabList aria-label={words.fieldTabs}>
        {TABS.map((name) => (
          <Tab key={name} id={name}>
            {name === 'peg' && pegIndex !== null ? words.peg(pegIndex + 1) : words.tabs[name]}
          </Tab>
        ))}
      </TabList>
      <TabPanel id="sculpt">
        <SculptFields />
      </TabPanel>
      <TabPanel id="seam">
        {seam ? <SeamFields seam={seam} /> : <p className="soft">{words.noSeam}</p>}
      </TabPanel>
      <TabPanel id="peg">
        {seam && peg && pegIndex !== null ? (
          <PegFields seam={seam} peg={peg} index={pegIndex} />
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
