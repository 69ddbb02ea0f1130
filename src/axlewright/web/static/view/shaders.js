// The shaders: the skin, lines of a width in pixels, and marks. All places are bent along the axis before they come here.

import { CIVIDIS } from "./cividis.js";

export const SKIN = {
  vertex: `
in float heatBefore;
in float heatAfter;
uniform float share;
out float heat;
out vec3 facing;
void main() {
  heat = mix(heatBefore, heatAfter, share);
  facing = normalMatrix * normal;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`,
  fragment: `
in float heat;
in vec3 facing;
uniform vec2 range; // codes at both ends of the colour scale
uniform vec3 paper;
uniform bool coloured;
uniform vec3 table[${CIVIDIS.length}];
out vec4 colour;
void main() {
  float light = dot(normalize(facing), vec3(-0.30, 0.62, 0.72));
  vec3 base = paper;
  if (coloured) {
    float at = clamp((heat - range.x) / (range.y - range.x), 0.0, 1.0) * ${CIVIDIS.length - 1}.0;
    int low = min(int(at), ${CIVIDIS.length - 2});
    base = mix(table[low], table[low + 1], at - float(low));
  }
  colour = vec4(base * (0.86 + 0.14 * light), 1.0);
}`,
};

/** Where the ends of a piece of line are on the screen, and the corner of its rectangle this vertex is. */
const LINE = `
in vec3 from;
in vec3 to;
in vec2 corner; // across -1 or 1, along 0 or 1
uniform vec2 pixel;
uniform float nearer; // how much a line stands before the skin it lies on, in clip space
vec4 cornered(float width) {
  vec4 a = projectionMatrix * modelViewMatrix * vec4(from, 1.0);
  vec4 b = projectionMatrix * modelViewMatrix * vec4(to, 1.0);
  vec2 way = (b.xy - a.xy) / pixel;
  float size = length(way);
  way = size > 1e-3 ? way / size : vec2(1.0, 0.0);
  vec4 at = mix(a, b, corner.y);
  vec2 shift = vec2(-way.y, way.x) * corner.x + way * (2.0 * corner.y - 1.0) * 0.7;
  at.xy += shift * 0.5 * width * pixel;
  at.z -= nearer;
  return at;
}`;

/** Edges thin, the outline thick. */
export const INK = {
  vertex: `${LINE}
uniform float width;
void main() { gl_Position = cornered(width); }`,
  fragment: `
uniform vec3 ink;
out vec4 colour;
void main() { colour = vec4(ink, 1.0); }`,
};

/** Beads: to come thin, done thick, the present one thickest and as far as its arc has come. */
export const BEADS = {
  vertex: `${LINE}
in vec2 bead; // place in the order, share of its length
uniform float present; // place in the order of the bead that burns or comes next
uniform float burnt; // share of it that is laid
uniform float chosen; // place of the bead that is pointed at, or -1
uniform vec4 widths; // to come, done, now, casing
uniform vec3 done;
uniform vec3 toCome;
uniform vec3 now;
uniform vec3 casing;
uniform bool under; // draws what lies under the lines, so that they show on any skin
out vec3 shade;
void main() {
  bool isNow = bead.x == present;
  bool isDone = bead.x < present;
  float width = isNow ? (bead.y <= burnt ? widths.z : widths.y) : isDone ? widths.y : widths.x;
  if (bead.x == chosen) width = max(width, widths.z);
  shade = under ? casing : isNow || bead.x == chosen ? now : isDone ? done : toCome;
  if (under) width = isDone || isNow || bead.x == chosen ? width + widths.w : 0.0;
  gl_Position = cornered(width);
}`,
  fragment: `
in vec3 shade;
out vec4 colour;
void main() { colour = vec4(shade, 1.0); }`,
};

/** Tacks: a ring; a triangle where one comes near its strength; a square on its tip where one comes beyond it. */
export const MARKS = {
  vertex: `
in vec2 corner;
in float kind; // 0 ring, 1 triangle, 2 square on its tip
in float loaded; // 1 where it is that loaded now
in vec3 outward;
in float melted; // place in the order of the bead that runs over it
uniform float laid;
uniform vec2 pixel;
uniform float nearer;
uniform vec3 sizes; // of the three marks, in pixels
out vec2 within;
flat out vec2 mark;
void main() {
  within = corner;
  mark = vec2(kind, loaded);
  vec4 at = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  float size = kind < 0.5 ? sizes.x : kind < 1.5 ? sizes.y : sizes.z;
  if (laid > melted || (normalMatrix * outward).z < 0.05) size = 0.0;
  at.xy += corner * 0.5 * size * pixel;
  at.z -= nearer;
  gl_Position = at;
}`,
  fragment: `
in vec2 within;
flat in vec2 mark;
uniform vec3 ink;
uniform vec3 paper;
uniform vec3 heat;
out vec4 colour;
void main() {
  float far = mark.x < 0.5 ? length(within)
    : mark.x < 1.5 ? max(-within.y + 0.05, dot(vec2(abs(within.x), within.y), vec2(0.88, 0.47)) + 0.53)
    : abs(within.x) + abs(within.y);
  float edge = mark.x < 0.5 ? 0.55 : 0.62;
  if (far > 1.0) discard;
  colour = vec4(far > edge ? ink : mark.y > 0.5 ? heat : paper, 1.0);
}`,
};
