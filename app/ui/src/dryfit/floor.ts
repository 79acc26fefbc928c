// The floor: drafting paper of inches or centimetres, and the soft shadow of the toy on it. The
// shadow is drawn from above, small, made soft in two steps, and only drawn anew when something has
// moved.

import {
  CustomBlending, MaxEquation, OneFactor, LinearFilter, Mesh, OrthographicCamera, PlaneGeometry, Scene, ShaderMaterial, Color, Vector2, Vector3, Vector4, WebGLRenderer, WebGLRenderTarget, type Box3,
} from "three";

const shadowSize = 256; // points across
const below = 0.05; // mm that the paper lies under the wheels
const everywhere = 1e6; // mm: nothing is left out of the shadow for being off the picture

export class Floor {
  readonly mesh: Mesh<PlaneGeometry, ShaderMaterial>;
  private readonly drawn = new WebGLRenderTarget(shadowSize, shadowSize, { depthBuffer: false });
  private readonly soft = [0, 1].map(() => new WebGLRenderTarget(shadowSize, shadowSize, { depthBuffer: false }));
  private readonly from = new OrthographicCamera(-everywhere, everywhere, everywhere, -everywhere, -everywhere, everywhere);
  private readonly blot: ShaderMaterial;
  private readonly blur: ShaderMaterial;
  private readonly whole: Mesh<PlaneGeometry, ShaderMaterial>;
  private readonly wholeScene = new Scene();
  private z = 0;

  constructor(sun: Vector3) {
    for (const t of [this.drawn, ...this.soft]) t.texture.minFilter = t.texture.magFilter = LinearFilter;
    this.mesh = new Mesh(
      new PlaneGeometry(1, 1),
      new ShaderMaterial({
        vertexShader: paperVertex, fragmentShader: paper, transparent: true,
        uniforms: {
          square: { value: 10 }, strong: { value: 10 }, sheet: { value: new Color() }, line: { value: new Color() }, dark: { value: new Color() },
          middle: { value: new Vector2() }, reach: { value: 1 }, over: { value: new Vector4(0, 0, 1, 1) }, shadow: { value: this.soft[1].texture }, deep: { value: 0.4 },
        },
      }),
    );
    this.mesh.renderOrder = -1;
    this.mesh.layers.set(1);
    this.blot = new ShaderMaterial({
      vertexShader: blotVertex, fragmentShader: blot, depthTest: false, depthWrite: false,
      blending: CustomBlending, blendEquation: MaxEquation, blendSrc: OneFactor, blendDst: OneFactor,
      uniforms: { lean: { value: new Vector2(-sun.x / sun.z, -sun.y / sun.z) }, floorAt: { value: 0 }, over: { value: new Vector4() } },
    });
    this.blur = new ShaderMaterial({ vertexShader: wholeVertex, fragmentShader: blurred, depthTest: false, uniforms: { from: { value: null }, by: { value: new Vector2() } } });
    this.whole = new Mesh(new PlaneGeometry(2, 2), this.blur);
    this.whole.frustumCulled = false;
    this.wholeScene.add(this.whole);
  }

  /** lay puts the floor under the toy: its height, and squares of so many mm with every nth line strong. */
  lay(z: number, square: number, strong: number): void {
    this.z = z;
    const u = this.mesh.material.uniforms;
    u.square.value = square;
    u.strong.value = strong;
    this.blot.uniforms.floorAt.value = z;
  }

  colours(sheet: Color, line: Color, dark: Color, deep: number): void {
    const u = this.mesh.material.uniforms;
    u.sheet.value.copy(sheet);
    u.line.value.copy(line);
    u.dark.value.copy(dark);
    u.deep.value = deep;
  }

  /** under follows what is looked at; further out the paper fades. */
  under(target: Vector3, far: number): void {
    this.mesh.position.set(target.x, target.y, this.z - below);
    this.mesh.scale.set(4 * far, 4 * far, 1);
    this.mesh.material.uniforms.middle.value.set(target.x, target.y);
    this.mesh.material.uniforms.reach.value = 1.7 * far;
  }

  /** cast draws the shadow of what is in a space, within a box, anew. */
  cast(renderer: WebGLRenderer, space: Scene, box: Box3): void {
    const margin = 0.35 * Math.max(box.max.x - box.min.x, box.max.y - box.min.y) + 2 * (box.max.z - this.z);
    const over = new Vector4(box.min.x - margin, box.min.y - margin, box.max.x - box.min.x + 2 * margin, box.max.y - box.min.y + 2 * margin);
    this.blot.uniforms.over.value.copy(over);
    this.mesh.material.uniforms.over.value.copy(over);
    const [clear, alpha] = [renderer.getClearColor(new Color()), renderer.getClearAlpha()];
    renderer.setClearColor(0x000000, 1);
    space.overrideMaterial = this.blot;
    renderer.setRenderTarget(this.drawn);
    renderer.clear();
    renderer.render(space, this.from);
    space.overrideMaterial = null;
    const wide = 1.3 / shadowSize;
    const pass = (from: WebGLRenderTarget, to: WebGLRenderTarget, x: number, y: number): void => {
      this.blur.uniforms.from.value = from.texture;
      this.blur.uniforms.by.value.set(x, y);
      renderer.setRenderTarget(to);
      renderer.render(this.wholeScene, this.from);
    };
    pass(this.drawn, this.soft[0], wide, 0);
    pass(this.soft[0], this.soft[1], 0, wide);
    renderer.setRenderTarget(null);
    renderer.setClearColor(clear, alpha);
  }

  end(): void {
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
    this.whole.geometry.dispose();
    this.blot.dispose();
    this.blur.dispose();
    for (const t of [this.drawn, ...this.soft]) t.dispose();
  }
}

const paperVertex = `
varying vec2 at;
void main() {
  vec4 w = modelMatrix * vec4(position, 1.0);
  at = w.xy;
  gl_Position = projectionMatrix * viewMatrix * w;
}
`;

const paper = `
varying vec2 at;
uniform float square, strong, reach, deep;
uniform vec3 sheet, line, dark;
uniform vec2 middle;
uniform vec4 over;
uniform sampler2D shadow;
// A line as wide as a point of the screen, whatever the distance.
float lines(vec2 p, float w) {
  vec2 wide = fwidth(p);
  vec2 off = abs(fract(p - 0.5) - 0.5) / max(wide, vec2(1e-6));
  vec2 on = 1.0 - smoothstep(vec2(w - 0.5), vec2(w + 0.5), off);
  on *= 1.0 - smoothstep(0.18, 0.5, wide); // too dense to be told apart
  return max(on.x, on.y);
}
void main() {
  float thin = lines(at / square, 0.35);
  float heavy = lines(at / (square * strong), 0.75);
  vec2 uv = (at - over.xy) / over.zw;
  float inside = step(0.0, min(min(uv.x, uv.y), min(1.0 - uv.x, 1.0 - uv.y)));
  float shade = texture2D(shadow, clamp(uv, 0.0, 1.0)).r * inside;
  vec3 colour = mix(sheet, line, max(0.75 * thin, heavy));
  colour = mix(colour, dark, deep * shade);
  float fade = 1.0 - smoothstep(0.45, 1.0, length(at - middle) / reach);
  gl_FragColor = vec4(colour, fade);
}
`;

const blotVertex = `
uniform vec2 lean;
uniform float floorAt;
uniform vec4 over;
varying float high;
void main() {
  vec4 w = modelMatrix * vec4(position, 1.0);
  high = w.z - floorAt;
  gl_Position = vec4(2.0 * (w.xy + lean * high - over.xy) / over.zw - 1.0, 0.0, 1.0);
}
`;

// The further from the floor, the weaker: much light comes in from the sides.
const blot = `
varying float high;
void main() { gl_FragColor = vec4(vec3(mix(1.0, 0.32, clamp(high / 90.0, 0.0, 1.0))), 1.0); }
`;

const wholeVertex = `
varying vec2 uvAt;
void main() { uvAt = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }
`;

const blurred = `
varying vec2 uvAt;
uniform sampler2D from;
uniform vec2 by;
void main() {
  float sum = 0.0, all = 0.0;
  for (int i = -6; i <= 6; i++) {
    float w = exp(-float(i * i) / 16.0);
    sum += w * texture2D(from, uvAt + float(i) * by).r;
    all += w;
  }
  gl_FragColor = vec4(vec3(sum / all), 1.0);
}
`;
