import { parseAst } from 'vite';

/** A node of a source's syntax tree. */
export interface Node {
  type: string;
  [field: string]: unknown;
}

export const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

export const parseSource = (path: string, code: string): Node =>
  parseAst(code, { lang: path.endsWith('x') ? 'tsx' : 'ts' }) as unknown as Node;

/** Calls `visit` for all below a node, each with its parent, the field it hangs from, and all above it from the top. */
export function walk(
  node: Node,
  visit: (node: Node, parent: Node, field: string, above: readonly Node[]) => void,
  above: readonly Node[] = [],
): void {
  const path = [...above, node];
  for (const [field, value] of Object.entries(node)) {
    for (const child of Array.isArray(value) ? value : [value]) {
      if (!isNode(child)) continue;
      visit(child, node, field, path);
      walk(child, visit, path);
    }
  }
}
