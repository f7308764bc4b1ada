/** Everything is drawn on layer 0; the figure is on a layer of its own too, to be drawn alone. */
export const FIGURE_LAYER = 1;
export const FIGURE_MASK = (1 << 0) | (1 << FIGURE_LAYER);
