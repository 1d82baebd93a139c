export function Rules() {
  return (
    <main>
      <h1>Rules</h1>
    </main>
  );
}
