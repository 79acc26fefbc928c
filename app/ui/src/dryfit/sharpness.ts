// How sharp the picture is drawn. Still, it is drawn as sharp as the screen with smooth edges.
// While it moves, only as sharp as the machine manages at a steady pace: it is timed, and drawn
// plainer until it keeps up.

import { Mesh, OrthographicCamera, PlaneGeometry, Scene, ShaderMaterial, SRGBColorSpace, WebGLRenderTarget, type Camera, type WebGLRenderer } from "three";

interface Level {
  share: number; // of the points of the screen, along each side
  smooth: boolean; // edges drawn of several points each
  fine: boolean; // wood with its fibres
}

const levels: Level[] = [
  { share: 1, smooth: true, fine: true },
  { share: 1, smooth: false, fine: true },
  { share: 0.75, smooth: false, fine: false },
  { share: 0.5, smooth: false, fine: false },
];

const sharpest = 2; // points of the picture for one of the page; more is not seen
const samples = 4; // of a smooth edge
const slow = 40; // ms of a frame: 25 a second
const quick = 12; // ms: there is time for more
const still = 350; // ms without a frame after which the picture counts as still: after an edit the findings come first
const timed = 4; // frames of a movement that are timed, and as many each time that is another level

export class Sharpness {
  private moving = 1; // the level that moving pictures are drawn at
  private left = timed;
  private took: (number | null)[] = levels.map(() => null); // ms of a frame at each level
  private at: Level | null = null;
  private timer = 0;
  private w = 1;
  private h = 1;
  private readonly smooth = new WebGLRenderTarget(1, 1, { samples, colorSpace: SRGBColorSpace });
  private readonly copy = new ShaderMaterial({ vertexShader: vertex, fragmentShader: fragment, depthTest: false, depthWrite: false, uniforms: { from: { value: this.smooth.texture } } });
  private readonly whole = new Scene();
  private readonly flat = new OrthographicCamera();

  constructor(private readonly renderer: WebGLRenderer, private readonly again: () => void, private readonly fine: { value: boolean }) {
    const sheet = new Mesh(new PlaneGeometry(2, 2), this.copy);
    sheet.frustumCulled = false;
    this.whole.add(sheet);
  }

  end(): void {
    clearTimeout(this.timer);
    this.smooth.dispose();
    this.copy.dispose();
  }

  size(w: number, h: number): void {
    [this.w, this.h, this.at] = [w, h, null];
  }

  private resting = false;

  draw(space: Scene, camera: Camera): void {
    const k = this.resting ? 0 : this.moving;
    this.resting = false;
    this.set(levels[k]);
    const begin = performance.now();
    if (levels[k].smooth) {
      this.renderer.setRenderTarget(this.smooth);
      this.renderer.clear();
      this.renderer.render(space, camera);
      this.renderer.setRenderTarget(null);
      this.renderer.render(this.whole, this.flat);
    } else {
      this.renderer.render(space, camera);
    }
    if (this.left > 0) this.time(k, begin);
    clearTimeout(this.timer);
    if (k > 0) this.timer = setTimeout(() => this.rest(), still);
    else this.left = timed;
  }

  /** time waits for the frame to be drawn. The first of a level does not count: much is made ready
   * in it. */
  private time(k: number, begin: number): void {
    const gl = this.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
    if (this.left-- === timed) return;
    const ms = performance.now() - begin;
    this.took[k] = this.took[k] === null ? ms : 0.5 * (this.took[k] + ms);
    if (k === 0 || this.left > 0) return;
    if (this.took[k] > slow && k < levels.length - 1) this.to(k + 1);
    else if (this.took[k] < quick && (this.took[k - 1] ?? 0) < slow) this.to(k - 1);
  }

  private to(k: number): void {
    this.moving = k;
    this.left = timed;
  }

  private rest(): void {
    this.resting = true;
    this.again();
  }

  private set(l: Level): void {
    if (l === this.at) return;
    this.at = l;
    const ratio = Math.min(devicePixelRatio, sharpest) * l.share;
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(this.w, this.h, false);
    this.fine.value = l.fine;
    if (l.smooth) this.smooth.setSize(Math.floor(this.w * ratio), Math.floor(this.h * ratio));
  }
}

const vertex = `
varying vec2 at;
void main() { at = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }
`;

const fragment = `
varying vec2 at;
uniform sampler2D from;
void main() { gl_FragColor = texture2D(from, at); }
`;
