export function PatternsPage() {
  return <h1>Patterns</h1>;
}
