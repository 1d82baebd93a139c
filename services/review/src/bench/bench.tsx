export function Bench() {
  return (
    <main>
      <h1>Bench</h1>
    </main>
  );
}
