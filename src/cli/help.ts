/** What can be called, for people: the one thing on standard output that is no JSON. */

const VERBS = {
  inspect: `inspect FILE [FILE...] [--unit UNIT]
  Tells what files of one figure hold and whether it is a sound solid.
  --unit UNIT    unit of the numbers in the file: micron, mm, cm, inch, foot or m;
                 left out, what the file declares, else mm`,
  section: `section FILE --normal X,Y,Z --offset MM [--unit UNIT]
  Tells area and outlines of the figure in the plane n.x = offset.`,
  make: `make JOB.json --out FOLDER [--files stl] [--strict]
  Makes the parts of a job and writes them with report.json, all or none, never over a file
  that they are made from. Prints the report.
  --strict       writes nothing where there is a finding of severity error`,
} as const;

const EXITS = `Results are JSON on standard output; progress and refusals go to standard error.
Exit 0: done. 1: done, with a finding of severity error. 2: bad input or usage, nothing written.`;

/** Prints how one verb is called, or all of them where it names none. @returns the exit code */
export function help(verb: string | undefined): number {
  const asked = Object.entries(VERBS).find(([name]) => name === verb);
  const calls = asked ? asked[1] : Object.values(VERBS).join('\n\n');
  process.stdout.write(`pegwright ${calls.replaceAll('\n\n', '\n\npegwright ')}\n\n${EXITS}\n`);
  return 0;
}
