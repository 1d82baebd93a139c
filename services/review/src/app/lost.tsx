/** An address that leads nowhere. */
export function Lost() {
  return (
    <main>
      <h1>There is no such page</h1>
      <p>The address is wrong, or what it named is gone. <a href="/arrivals">Go to the arrivals.</a></p>
    </main>
  );
}
