// Wood: worked out for every point from where it lies in its blank, so that the grain runs along
// the length on every face and shows its rings on the ends. No picture is borrowed.

import { Color, MeshLambertMaterial } from "three";

/** woodMaterial returns the look of a piece. The seed places it in its tree. */
export function woodMaterial(colour: [number, number, number], sheet: boolean, seed: number): MeshLambertMaterial {
  const m = new MeshLambertMaterial({ color: new Color().setRGB(colour[0] / 255, colour[1] / 255, colour[2] / 255, "srgb"), polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }); // behind the ink on it
  m.onBeforeCompile = (shader) => {
    shader.uniforms.treeAt = { value: [((seed * 37) % 61) - 30, 25 + ((seed * 17) % 40), (seed * 53) % 97] };
    shader.vertexShader = shader.vertexShader
      .replace("#include <common>", "#include <common>\nvarying vec3 inBlank;")
      .replace("#include <begin_vertex>", "#include <begin_vertex>\ninBlank = position;");
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", "#include <common>\n" + (sheet ? plies : rings))
      .replace("#include <color_fragment>", "#include <color_fragment>\ndiffuseColor.rgb *= woodAt(inBlank);");
  };
  m.customProgramCacheKey = () => (sheet ? "plies" : "rings");
  return m;
}

const noise = `
varying vec3 inBlank;
uniform vec3 treeAt;
float hash(vec3 p) { return fract(sin(dot(p, vec3(12.9898, 78.233, 37.719))) * 43758.5453); }
float noise(vec3 p) {
  vec3 i = floor(p), f = fract(p);
  f = f * f * (3.0 - 2.0 * f);
  return mix(mix(mix(hash(i), hash(i + vec3(1,0,0)), f.x), mix(hash(i + vec3(0,1,0)), hash(i + vec3(1,1,0)), f.x), f.y),
             mix(mix(hash(i + vec3(0,0,1)), hash(i + vec3(1,0,1)), f.x), mix(hash(i + vec3(0,1,1)), hash(i + vec3(1,1,1)), f.x), f.y), f.z);
}
`;

// Rings about a pith that lies beside the board; years 3 mm apart, wavering along the length, and
// fibres of a fraction of a millimetre.
const rings = noise + `
vec3 woodAt(vec3 p) {
  vec3 q = p + treeAt;
  float waver = noise(vec3(q.x * 0.012, q.y * 0.05, q.z * 0.05)) * 5.0;
  float r = length(vec2(q.y, q.z)) + waver;
  float year = fract(r / 3.0);
  float late = smoothstep(0.55, 0.95, year) * (1.0 - smoothstep(0.95, 1.0, year));
  float fibre = noise(vec3(q.x * 0.15, q.y * 3.0, q.z * 3.0)) - 0.5;
  return vec3(1.0) - vec3(0.16, 0.2, 0.24) * late + fibre * 0.07;
}
`;

// Plies 1.5 mm thick whose grain crosses: dark and light lines on the edges, long fibres on the face.
const plies = noise + `
vec3 woodAt(vec3 p) {
  float ply = floor(p.z / 1.5);
  float across = mod(ply, 2.0);
  vec3 q = across < 0.5 ? p : p.yxz;
  float fibre = noise(vec3(q.x * 0.05, q.y * 1.2, ply) + treeAt) - 0.5;
  float glue = smoothstep(0.42, 0.5, abs(fract(p.z / 1.5) - 0.5));
  return vec3(1.0) - 0.06 * across - vec3(0.12, 0.16, 0.2) * glue * 0.5 + fibre * 0.1;
}
`;
