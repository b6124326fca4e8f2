/**
 * How charts look. Two data colours, a dark blue and an orange, that differ in lightness as well as in hue, so that they
 * stay apart for every kind of colour vision and in a grey print; everything else is ink or grey. No status is told by
 * colour alone: words, line shape and position say it too.
 */
export const FONT = 'Inter, sans-serif';
/** px: width of every chart (fits a page of 180 mm), of which LEFT for the vertical axis' labels and RIGHT for marks' labels. */
export const WIDTH = 720;
export const LEFT = 76;
export const RIGHT = 68;
export const PLOT = WIDTH - LEFT - RIGHT;
export const TEXT_PX = 11;
export const TITLE_PX = 12;

export const INK = '#1c2530';
export const GREY = '#5b6672';
export const AXIS = '#9aa4ae';
export const GRID = '#e4e8ec';
export const PALE = '#eef1f4';
export const BLUE = '#17527f';
export const BLUE_PALE = '#9dbdd6';
export const ORANGE = '#d9730d';
export const ORANGE_PALE = '#f3cfa6';

export const CONFIG = {
  font: FONT,
  background: 'transparent',
  padding: { left: 0, right: 0, top: 4, bottom: 4 },
  aria: false,
  view: { stroke: null },
  concat: { spacing: 12 },
  axis: {
    labelColor: INK,
    labelFontSize: TEXT_PX,
    labelLimit: 0,
    labelFlush: false,
    labelOverlap: false,
    labelPadding: 6,
    titleColor: GREY,
    titleFontSize: TEXT_PX,
    titleFontWeight: 'normal',
    gridColor: GRID,
    domain: false,
    ticks: false,
  },
  text: { fontSize: TEXT_PX, color: INK },
  rule: { color: INK },
} as const;
