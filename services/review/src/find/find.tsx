export function Find() {
  return (
    <main>
      <h1>Find</h1>
    </main>
  );
}
