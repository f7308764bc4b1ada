/** What the terminal says beside refusals and findings. */

/** How each verb is called, given the formats that parts can be written in. */
const verbs = (formats: readonly string[]) => ({
  inspect: `inspect FILE [FILE...] [--unit UNIT]
  Tells what files of one figure hold and whether it is a sound solid.
  --unit UNIT    unit of the numbers in the file: micron, mm, cm, inch, foot or m;
                 left out, what the file declares, else mm`,
  section: `section FILE --normal X,Y,Z --offset MM [--unit UNIT]
  Tells area and outlines of the figure in the plane n.x = offset.`,
  make: `make JOB.json --out FOLDER [--files FORMAT] [--strict]
  Makes the parts of a job and writes them with report.json, all or none, never over a file
  that they are made from. Prints the report.
  --files FORMAT what the parts are written as: ${formats.join(', ')}; left out, ${formats[0]}
  --strict       writes nothing where there is a finding of severity error`,
});

const exits = `Results are JSON on standard output; progress and refusals go to standard error.
Exit 0: done. 1: done, with a finding of severity error. 2: bad input or usage, nothing written.`;

export const terminal = {
  verbs,
  /** What results and exit codes mean. */
  exits,
};
