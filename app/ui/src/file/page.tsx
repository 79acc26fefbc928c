export function FilePage() {
  return <h1>File</h1>;
}
