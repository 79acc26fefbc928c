// Verdicts by sign, word and colour: never by colour alone.

const signs: Record<string, string> = { holds: "✓", mind: "!", fails: "✗", "cannot tell": "?", waived: "–" };

const kinds: Record<string, string> = { holds: "good", mind: "mind", fails: "bad", "cannot tell": "untold", waived: "waived" };

export function Badge({ verdict }: { verdict: string }) {
  return (
    <span class={"badge " + (kinds[verdict] ?? "")}>
      <span aria-hidden="true">{signs[verdict] ?? "…"}</span> {verdict}
    </span>
  );
}
