export function Arrivals() {
  return (
    <main>
      <h1>Arrivals</h1>
    </main>
  );
}
