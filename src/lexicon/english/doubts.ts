import type { KernelDoubt } from '../../errors.ts';
import { numbers, whole } from './speech.ts';

/** Why the solid kernel does not take, make or agree to something, to stand in brackets. */
export function doubtOf(doubt: KernelDoubt): string {
  switch (doubt.is) {
    case 'too-big':
      return `${whole(doubt.triangles)} triangles are more than the ${whole(doubt.limit)} it can hold`;
    case 'not-manifold':
      return 'it is not manifold';
    case 'said':
      return doubt.words;
    case 'crashed':
      return 'it stopped over it';
    case 'timed-out':
      return 'it took too long over it';
    case 'triangles-off':
      return `it holds ${whole(doubt.held)} of the ${whole(doubt.of)} triangles`;
    case 'volume-off':
      return `the volumes differ by ${numbers.measured(doubt.mm3)} mm³`;
  }
}
