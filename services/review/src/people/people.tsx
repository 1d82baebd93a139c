export function People() {
  return (
    <main>
      <h1>People</h1>
    </main>
  );
}
