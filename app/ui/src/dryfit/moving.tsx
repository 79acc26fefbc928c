// The moves of the toy by slider and button, the same as by hand in the picture.

import { inch, snapped } from "../draw/lengths";
import type { Body, Scene } from "../protocol";
import { legNow } from "./apart";
import { contactsOf, rolls } from "./bodies";
import type { Motion } from "./motion";
import { plain, swingName, wheelsName } from "./names";
import { degrees, said } from "./units";

export function Moving({ motion, scene, units }: { motion: Motion; scene: Scene; units: string }) {
  const moves = scene.bodies.map((b, i) => ({ b, i })).filter(({ b }) => b.kind === "hinge" || (b.kind === "wheels" && !rolls(b, scene)));
  const rollsOn = motion.train.length > 0;
  return (
    <div class="moving">
      <Apart motion={motion} scene={scene} />
      {moves.map(({ b, i }) => <Turn key={b.name} motion={motion} scene={scene} body={b} index={i} />)}
      {rollsOn && <Roll motion={motion} scene={scene} units={units} />}
    </div>
  );
}

/** Playing is what the toy does by itself. */
export function Playing({ motion, scene }: { motion: Motion; scene: Scene }) {
  const rollsOn = motion.train.length > 0;
  return (
    <>
      {rollsOn && (motion.playing
        ? <button class="main" onClick={() => motion.stop()}>Stop</button>
        : <>
          <button onClick={() => motion.play("on")}>Roll on</button>
          {motion.radius !== null && <button onClick={() => motion.play("round")}>Round a turn</button>}
        </>)}
      <button disabled={motion.isBack()} onClick={() => motion.back()}>As drawn</button>
      {rollsOn && motion.radius === null && <span class="quiet">Nothing steers it.</span>}
      {!rollsOn && !scene.bodies.some((b) => b.kind) && <span class="quiet">Nothing of it moves.</span>}
    </>
  );
}

function Apart({ motion, scene }: { motion: Motion; scene: Scene }) {
  const legs = motion.legs;
  const n = legs?.length ?? 0;
  const k = legNow(legs ?? [], motion.pulled);
  const leg = k >= 0 && k < n ? legs![k] : null;
  const says = legs === null ? "looking for the way …" : n === 0 ? "no way is known in which it comes apart"
    : k < 0 ? "" : leg ? `${k + 1} of ${n}: ${names(scene, leg.pieces)}` : "all apart";
  return (
    <label class="move wide">
      <span>Pull apart</span>
      <input type="range" min="0" max="1" step="0.002" value={motion.pulled} disabled={n === 0} aria-valuetext={says || "together"} onInput={(e) => motion.pull(+(e.target as HTMLInputElement).value)} />
      <output>{says}</output>
    </label>
  );
}

/** names is what one calls pieces that come off together. */
function names(scene: Scene, pieces: number[]): string {
  const ids = pieces.map((i) => scene.pieces[i]?.id ?? "");
  const tops = [...new Set(ids.map((id) => id.split("/")[0]))];
  return tops.length > 1 && ids.length > 3 ? `${plain(tops[0])} and what is on it` : tops.map(plain).join(", ");
}

function Turn({ motion, scene, body, index }: { motion: Motion; scene: Scene; body: Body; index: number }) {
  const hinge = body.kind === "hinge";
  const angle = motion.stand.angles[index] ?? 0;
  const turn = Math.PI;
  const toDegrees = 180 / Math.PI;
  const [low, high] = hinge ? [body.low, body.high] : [-turn, turn];
  return (
    <label class="move">
      <span>{hinge ? `Swing ${swingName(scene, motion.rig, index)}` : `Turn ${wheelsName(scene, motion.rig, index)}`}</span>
      <input
        type="range" step="any" min={low * toDegrees} max={high * toDegrees} value={angle * toDegrees} aria-valuetext={degrees(angle)}
        onInput={(e) => motion.turn(index, +(e.target as HTMLInputElement).value / toDegrees)}
        onKeyDown={(e) => {
          const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10 }[e.key];
          if (by === undefined) return; // a slider without steps would go by a hundredth of its way
          e.preventDefault();
          motion.turn(index, (Math.round(angle * toDegrees) + by) / toDegrees);
        }}
      />
      <output>{degrees(angle)}</output>
    </label>
  );
}

/** farSlide is how many lengths of the toy the slider rolls it, each way. */
const farSlide = 3;

function Roll({ motion, scene, units }: { motion: Motion; scene: Scene; units: string }) {
  const reach = farSlide * (scene.high[0] - scene.low[0]);
  return (
    <label class="move">
      <span>Roll along</span>
      <input
        type="range" step="1" min={-reach} max={reach} value={Math.max(-reach, Math.min(reach, motion.rolled))} aria-valuetext={said(motion.rolled, units)}
        onInput={(e) => {
          motion.stop();
          motion.roll(+(e.target as HTMLInputElement).value - motion.rolled);
        }}
      />
      <output>{motion.rolled === 0 ? "" : (motion.rolled < 0 ? "back " : "") + rolled(Math.abs(motion.rolled), units)}</output>
    </label>
  );
}

/** rolled is a way along the floor, as nobody measures it finer. */
function rolled(mm: number, units: string): string {
  const step = units === "inch" ? inch / 4 : 5;
  return said(snapped(mm, step), units);
}

/** touching says what has come against what. */
export function touching(motion: Motion, scene: Scene): string {
  if (motion.pulled > 0) return "";
  const swung = motion.stand.angles.filter((a, i) => scene.bodies[i].kind === "hinge" && a !== 0).length;
  const all = contactsOf(scene, motion.rig, motion.stand.angles).map((c) => `${plain(c.by)} touches ${plain(c.piece)} at ${degrees(Math.abs(c.angle))}`);
  if (all.length === 0) return "";
  // each stop is proved with all else as drawn
  return all.join("; ") + (swung > 1 ? ". Each stop is worked out with all else as drawn" : "") + ".";
}
