/** What is wrong with how a command was called. */
export type UsageFault =
  | { is: 'verb-missing' }
  | { is: 'verb-unknown'; verb: string }
  | { is: 'no-file' }
  | { is: 'not-one-file'; wanted: 'mesh' | 'job'; given: number }
  | { is: 'option-unknown'; option: string }
  | { is: 'value-missing'; option: string; wanted: 'value' | 'number' | 'direction' | 'folder' }
  /** It is set by being there. */
  | { is: 'value-unwanted'; option: string }
  | { is: 'value-unknown'; option: string; value: string; known: readonly string[] };
