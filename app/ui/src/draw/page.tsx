export function DraftPage() {
  return <h1>Draw</h1>;
}
