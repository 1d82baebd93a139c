export function Queue() {
  return (
    <main>
      <h1>Queue</h1>
    </main>
  );
}
