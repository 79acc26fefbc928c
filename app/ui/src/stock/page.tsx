export function StockPage() {
  return <h1>Stock</h1>;
}
