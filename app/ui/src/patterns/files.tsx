// All that is made of the toy, to take away.

import type { JobArgs, Print } from "../protocol";
import { Download, wishOf } from "../outputs/parts";

export function Files({ job, print, stem }: { job: JobArgs | null; print: Print; stem: string }) {
  const file = (what: string, format: string, called: string, says: string, view = "") =>
    <li><Download job={job} wish={wishOf(what, format, { print, view })} name={`${stem}-${called}`}>{says}</Download></li>;
  return (
    <section class="files" aria-labelledby="files-head">
      <h2 id="files-head">Files</h2>
      <h3>To print</h3>
      <ul>
        {file("patterns", "pdf", "patterns.pdf", "Patterns (PDF)")}
        {file("guide", "pdf", "guide.pdf", "Guide (PDF)")}
        {file("guide", "html", "guide.html", "Guide for a tablet (web page)")}
        {file("pack", "pdf", "pack.pdf", "Guide and patterns in one (PDF)")}
      </ul>
      <h3>Pictures</h3>
      <ul>
        {file("picture", "pdf", "picture.pdf", "All views (PDF)")}
        {file("picture", "svg", "picture.svg", "All views (SVG)")}
        {file("picture", "png", "picture.png", "As it looks (PNG)", "iso")}
        {file("picture", "svg", "apart.svg", "Drawn apart (SVG)", "apart")}
      </ul>
      <h3>For other programs</h3>
      <ul>
        {file("export", "svg", "outlines-svg.zip", "Outlines (SVG)")}
        {file("export", "dxf", "outlines-dxf.zip", "Outlines (DXF)")}
        {file("export", "stl", "parts-stl.zip", "Parts as solids (STL)")}
        {file("export", "3mf", "toy.3mf", "The toy as solids (3MF)")}
        {file("export", "glb", "toy.glb", "The toy with its moves (glTF)")}
      </ul>
    </section>
  );
}
