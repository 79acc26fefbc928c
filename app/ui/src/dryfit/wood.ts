// Wood: worked out for every point from where it lies in its blank, so that the grain runs along
// the length on every face, the ends show the rings of the year and plywood its plies. What has to
// be calm when it is small on the screen fades before it flickers. No picture is borrowed: the one
// there is, of fibres, is made here.

import { Color, DataTexture, LinearFilter, LinearMipmapLinearFilter, RedFormat, RepeatWrapping, ShaderMaterial, UnsignedByteType, Vector3, Vector4 } from "three";
import type { Piece } from "../protocol";

/** Figure is how a wood looks close by. All are from memory, as one sees them on a planed board. */
interface Figure {
  ring: number; // mm from year to year
  late: number; // how much darker the late wood is, 0 to 1
  fleck: number; // short dark dashes along the grain: rays and pores
  wave: number; // mm by which the rings waver
}

const plain: Figure = { ring: 2.2, late: 0.12, fleck: 0.02, wave: 2.2 };

const figures: [RegExp, Figure][] = [
  [/beech/, { ring: 2.4, late: 0.1, fleck: 0.13, wave: 2.2 }],
  [/oak|ash|hickory/, { ring: 2.2, late: 0.26, fleck: 0.2, wave: 3 }],
  [/walnut|butternut|mahogany|sapele/, { ring: 3.2, late: 0.24, fleck: 0.16, wave: 4 }],
  [/cherry|alder/, { ring: 2.6, late: 0.14, fleck: 0.06, wave: 3 }],
  [/maple|birch|basswood|aspen|sycamore|gum/, { ring: 2.2, late: 0.1, fleck: 0.03, wave: 3 }],
  [/pine|fir|spruce|cedar|yew/, { ring: 3, late: 0.3, fleck: 0.0, wave: 2.5 }],
];

export function figureOf(wood: string): Figure {
  return figures.find(([name]) => name.test(wood.toLowerCase()))?.[1] ?? plain;
}

/** ply is how thick a ply is that a sheet is glued up from, mm (common practice, no source). */
const ply = 1.45;

/** kindOf is what the shader draws: boards and rods, plywood, or fibreboard without grain. */
function kindOf(p: Piece): number {
  return !p.sheet ? 0 : /mdf|fib(re|er)board/i.test(p.wood) ? 2 : 1;
}

/** Light is the lamps, the same for all pieces. */
export interface Light {
  sun: { value: Vector3 };
  warm: { value: Color };
  fill: { value: Color };
  ground: { value: Color };
  floorAt: { value: number };
  fine: { value: boolean }; // fibres too; without, it is drawn quicker
}

export function woodMaterial(p: Piece, size: [number, number, number], seed: number, light: Light): ShaderMaterial {
  const f = figureOf(p.wood);
  const pick = (n: number): number => ((Math.sin(seed * 127.1 + n * 311.7) * 43758.5453) % 1 + 1) % 1; // of each piece, the same every time
  const tint = p.colour.map((c) => (c / 255) ** 2); // as light, roughly: the shader takes the root of it
  const sheetPlies = 2 * Math.max(1, Math.round((size[2] / ply - 1) / 2)) + 1; // an odd number, so that both faces run the same way
  return new ShaderMaterial({
    vertexShader: vertex,
    fragmentShader: fragment,
    uniforms: {
      ...light,
      fibres: { value: fibres() },
      tint: { value: new Vector3(...tint) },
      // The pith: beside the board, further out than it is thick, so that the rings run over it in wide arcs.
      pith: { value: new Vector3(-pick(1) * 400, size[1] * (0.15 + 0.7 * pick(2)), -(0.5 + pick(3)) * Math.max(14, 0.7 * size[1]) - size[2] * 0.2) },
      figure: { value: new Vector4(f.ring, f.late, f.fleck, f.wave) },
      plies: { value: size[2] / sheetPlies },
      kind: { value: kindOf(p) },
      shade: { value: 0.95 + 0.1 * pick(4) }, // no two boards are alike
      glow: { value: new Vector4(0, 0, 0, 0) },
      clear: { value: 1 },
    },
    polygonOffset: true, polygonOffsetFactor: 1.2, polygonOffsetUnits: 2, // behind the ink that is drawn on it
  });
}

let made: DataTexture | null = null;

/** fibres is soft spots of two sizes, that repeat: drawn out along the grain they are fibres. */
function fibres(): DataTexture {
  if (made) return made;
  const n = 256;
  let s = 7;
  const random = (): number => ((s = (s * 1664525 + 1013904223) >>> 0), s / 2 ** 32);
  const layer = (cells: number): Float32Array => {
    const g = Float32Array.from({ length: cells * cells }, random);
    const out = new Float32Array(n * n);
    for (let y = 0; y < n; y++) {
      for (let x = 0; x < n; x++) {
        const u = (x * cells) / n, v = (y * cells) / n;
        const [i, j] = [Math.floor(u), Math.floor(v)];
        const ease = (t: number): number => t * t * (3 - 2 * t);
        const [a, b] = [ease(u - i), ease(v - j)];
        const at = (p: number, q: number): number => g[(q % cells) * cells + (p % cells)];
        out[y * n + x] = (at(i, j) * (1 - a) + at(i + 1, j) * a) * (1 - b) + (at(i, j + 1) * (1 - a) + at(i + 1, j + 1) * a) * b;
      }
    }
    return out;
  };
  const a = layer(64), b = layer(128);
  const data = Uint8Array.from(a, (v, i) => Math.round(255 * (0.6 * v + 0.4 * b[i])));
  made = new DataTexture(data, n, n, RedFormat, UnsignedByteType);
  made.wrapS = made.wrapT = RepeatWrapping;
  made.minFilter = LinearMipmapLinearFilter;
  made.magFilter = LinearFilter;
  made.generateMipmaps = true;
  made.needsUpdate = true;
  return made;
}

const vertex = `
varying vec3 inBlank;
varying vec3 blankNormal;
varying vec3 outward;
varying vec3 place;
void main() {
  vec4 w = modelMatrix * vec4(position, 1.0);
  inBlank = position;
  blankNormal = normal;
  outward = mat3(modelMatrix) * normal;
  place = w.xyz;
  gl_Position = projectionMatrix * viewMatrix * w;
}
`;

const fragment = `
varying vec3 inBlank;
varying vec3 blankNormal;
varying vec3 outward;
varying vec3 place;
uniform sampler2D fibres;
uniform vec3 tint, pith, sun, warm, fill, ground;
uniform vec4 figure, glow;
uniform float plies, shade, clear, floorAt;
uniform int kind;
uniform bool fine;

float spots(vec2 p) { return texture2D(fibres, p / 64.0).r; }

// The years about the pith, one after the other: each begins light and ends in a darker line.
// Where a year is less than a few points of the screen, its mean.
float years(vec3 q, float ring, float wave) {
  float waver = wave * (spots(vec2(q.x * 0.03, (q.y + q.z) * 0.035)) - 0.5) * 2.0 + 0.6 * wave * sin(q.x * 0.013 + pith.x);
  float r = (length(q.yz) + waver + q.x * 0.012) / ring;
  float t = fract(r);
  float late = smoothstep(0.25, 0.9, t) * (1.0 - smoothstep(0.9, 1.0, t));
  return mix(late, 0.38, smoothstep(0.25, 0.7, fwidth(r)));
}

vec3 board(vec3 p, vec3 n, float end) {
  vec3 q = p - pith;
  float late = years(q, figure.x, figure.w);
  if (!fine) return tint * shade * (1.0 - (figure.y * late * mix(1.0, 1.35, end) + 0.05 + 0.1 * figure.z) * vec3(0.85, 1.1, 1.35)) * (1.0 - 0.14 * end);
  vec2 along = mix(vec2(p.x * 0.12, p.y * 5.0 + p.z * 6.0 + pith.x), p.yz * 7.0, end);
  float fibre = spots(along + pith.xy) - 0.5;
  float dash = smoothstep(0.62, 0.78, spots(vec2(along.x * 4.0, along.y * 0.6) + pith.yx)) * (1.0 - end);
  float dark = figure.y * late * mix(1.0, 1.35, end) + figure.z * dash + 0.05 + fibre * -0.14;
  return tint * shade * (1.0 - dark * vec3(0.85, 1.1, 1.35)) * (1.0 - 0.14 * end);
}

// Plies whose grain crosses. On the edges every second one shows its ends and is darker, with a
// thin line of glue between; the faces are peeled from the log, so their figure is broad.
vec3 sheet(vec3 p, vec3 n, float end) {
  float face = step(0.7, abs(n.z));
  float at = p.z / plies;
  float odd = mod(floor(at), 2.0);
  float ends = mix(abs(end - odd), 0.0, face);
  float small = smoothstep(0.5, 1.2, fwidth(at) * 2.0);
  ends = mix(ends, 0.45, small * (1.0 - face));
  float glue = (1.0 - face) * (1.0 - small) * smoothstep(0.38, 0.48, abs(fract(at) - 0.5));
  float broad = spots(vec2(p.x * 0.03, p.y * 0.22 + p.z * 3.0) + pith.yx);
  float figured = face * abs(fract(broad * 4.0) - 0.5) * 0.1;
  if (!fine) return tint * shade * (1.0 - (0.22 * ends + 0.3 * glue + figured) * vec3(0.9, 1.1, 1.3));
  float fibre = spots(vec2(p.x * 0.07, p.y * 3.0) * face + (1.0 - face) * vec2((p.x + p.y) * 0.5, p.z * 6.0) + pith.xy) - 0.5;
  float dark = 0.22 * ends + 0.3 * glue + figured - fibre * 0.12;
  return tint * shade * (1.0 - dark * vec3(0.9, 1.1, 1.3));
}

vec3 fibreboard(vec3 p) {
  return tint * shade * (1.0 - 0.12 * (spots(p.xy * 6.0 + p.z * 3.0) - 0.5));
}

void main() {
  vec3 n = normalize(outward);
  float end = smoothstep(0.55, 0.85, abs(blankNormal.x));
  vec3 wood = kind == 0 ? board(inBlank, blankNormal, end) : kind == 1 ? sheet(inBlank, blankNormal, end) : fibreboard(inBlank);
  vec3 eye = normalize(cameraPosition - place);
  float lit = max(dot(n, sun), 0.0);
  float low = smoothstep(0.0, 24.0, place.z - floorAt); // less light comes in between toy and floor
  vec3 around = mix(ground, fill, 0.5 + 0.5 * n.z) * mix(0.72, 1.0, low) + 0.16 * max(dot(n, eye), 0.0);
  vec3 shone = wood * (around + warm * lit);
  // Oil and wax: a broad, weak shine, and a little more where one looks along the face.
  float shine = pow(max(dot(n, normalize(sun + eye)), 0.0), 22.0) * 0.10 * step(0.001, lit);
  float grazing = pow(1.0 - max(dot(n, eye), 0.0), 4.0) * 0.05;
  vec3 seen = sqrt(shone + (shine + grazing) * warm);
  gl_FragColor = vec4(mix(seen, glow.rgb, glow.a), clear);
}
`;
