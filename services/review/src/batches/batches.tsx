export function Batches() {
  return (
    <main>
      <h1>Batches</h1>
    </main>
  );
}
