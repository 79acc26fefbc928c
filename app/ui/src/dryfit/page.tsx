// Dry fit: the toy in three dimensions, what it can do, and what the proof found.

import { useEffect, useRef, useState } from "preact/hooks";
import { Findings } from "../findings";
import { Sizes } from "../sizes";
import { now, useModel, watch } from "../store";
import { View } from "./view";

export function DryFit() {
  const place = useRef<HTMLDivElement>(null);
  const view = useRef<View | null>(null);
  const scene = useModel((m) => m.open?.scene ?? null);
  const apart = useModel((m) => m.open?.apart ?? null);
  const [pull, setPull] = useState(0);
  const [turned, setTurned] = useState<Record<string, number>>({});
  useEffect(() => {
    const v = new View(place.current!);
    view.current = v;
    const show = () => v.show(now());
    show();
    const stop = watch(show);
    return () => {
      stop();
      v.end();
    };
  }, []);
  useEffect(() => view.current?.pull(pull), [pull, apart]);
  useEffect(() => view.current?.turn(turned), [turned, scene]);
  const moves = (scene?.bodies ?? []).filter((b) => b.kind !== "");
  return (
    <div class="two">
      <section class="stage" aria-labelledby="stage-head">
        <h1 id="stage-head" class="unseen">Dry fit</h1>
        <div class="scene" ref={place} tabIndex={0} role="img" aria-label="The toy in three dimensions. Arrow keys turn it, plus and minus come nearer and go away, Home looks from the front right." />
        <div class="controls">
          <label>Pull apart <input type="range" min="0" max="1" step="0.01" value={pull} disabled={!apart || apart.length === 0} onInput={(e) => setPull(+(e.target as HTMLInputElement).value)} /></label>
          {moves.map((b) => (
            <label key={b.name}>
              {b.kind === "wheels" ? "Roll " : "Swing "}{b.name}
              <input
                type="range" step="0.5"
                min={b.kind === "wheels" ? -360 : degrees(b.low)} max={b.kind === "wheels" ? 360 : degrees(b.high)}
                value={degrees(turned[b.name] ?? 0)}
                onInput={(e) => setTurned({ ...turned, [b.name]: (+(e.target as HTMLInputElement).value * Math.PI) / 180 })}
              />
              <output>{Math.round(degrees(turned[b.name] ?? 0))}°{touching(b, turned[b.name] ?? 0)}</output>
            </label>
          ))}
        </div>
      </section>
      <aside class="side">
        <Findings />
        <Sizes />
      </aside>
    </div>
  );
}

function degrees(x: number): number {
  return (x * 180) / Math.PI;
}

/** touching says what a swing has come against. */
function touching(b: { kind: string; low: number; high: number; stops: [string, string] }, at: number): string {
  const nearly = (0.6 * Math.PI) / 180; // a step of the slider
  if (b.kind !== "hinge") return "";
  if (at >= b.high - nearly && b.stops[1]) return " touches " + b.stops[1];
  if (at <= b.low + nearly && b.stops[0]) return " touches " + b.stops[0];
  return "";
}
