import { ProgressBar } from 'react-aria-components';
import './WorkMark.css';

/** How far something is: `done` from 0 to 1, null where that is not known. */
export function WorkMark({ label, done }: { label: string; done: number | null }) {
  // A step that has only begun may be one that cannot tell how far it is.
  const percent = done ? Math.round(done * 100) : null;
  return (
    <>
      <ProgressBar
        aria-label={label}
        {...(percent === null ? { isIndeterminate: true } : { value: percent })}
      >
        <span className="busy-track">
          <span className="busy-fill" style={{ width: `${percent ?? 12}%` }} />
        </span>
      </ProgressBar>
      <span>
        {label}
        {percent !== null && <span className="numerals"> {percent} %</span>}
      </span>
    </>
  );
}
