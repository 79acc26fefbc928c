export function StepsPage() {
  return <h1>Steps</h1>;
}
