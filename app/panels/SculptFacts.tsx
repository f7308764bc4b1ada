import type { SculptSummary } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { useBench } from '../state/workbench.tsx';
import { numeral, words } from '../words.ts';
import './SculptFacts.css';

/** Files and bodies named one by one; of more, only how many. */
const NAMED_FILES = 3;
const NAMED_BODIES = 12;

/** The files on the bench and what they hold. */
export function SculptFacts({ summary }: { summary: SculptSummary }) {
  const { also = [] } = useBench(jobOf).sculpt;
  const { bodies } = summary;
  const files = [summary.file, ...also];
  return (
    <section aria-label={words.tabs.sculpt}>
      <dl className="facts">
        <dt>{words.files}</dt>
        <dd className="sculpt-files" data-testid="sculpt-files">
          {files.slice(0, NAMED_FILES).map((name) => (
            <span key={name}>{name}</span>
          ))}
          {files.length > NAMED_FILES && (
            <span className="soft">{words.andMore(files.length - NAMED_FILES)}</span>
          )}
        </dd>
        <dt>{words.format}</dt>
        <dd>{words.formats[summary.format]}</dd>
        <dt>{words.triangles}</dt>
        <dd className="numerals" data-testid="sculpt-triangles">
          {numeral(summary.triangles, 0)}
        </dd>
        <dt>{words.bodies}</dt>
        <dd className="numerals" data-testid="sculpt-bodies">
          {numeral(bodies.length, 0)}
        </dd>
      </dl>
      {bodies.length > 1 && (
        <ul className="bodies" aria-label={words.bodies}>
          {bodies.slice(0, NAMED_BODIES).map(({ name, triangleCount }, i) => (
            <li key={i}>
              <span className="body-name" title={name}>
                {words.bodyCalled(name, i + 1)}
              </span>
              <span className="numerals soft">{numeral(triangleCount, 0)}</span>
            </li>
          ))}
          {bodies.length > NAMED_BODIES && (
            <li className="soft">{words.andMore(bodies.length - NAMED_BODIES)}</li>
          )}
        </ul>
      )}
    </section>
  );
}
