/** A code at work: a case in which it comes, and one close by in which it does not. Each runs the product and answers the codes that were told. */
export interface CodeCase<C extends string> {
  code: C;
  comes: () => Promise<readonly string[]>;
  stays: () => Promise<readonly string[]>;
}
