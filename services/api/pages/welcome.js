// The part of the address after # is the secret; it is taken off at once, so that it stays in no history.
const secret = location.hash.slice(1);
history.replaceState(null, '', location.pathname);

const form = document.getElementById('account');
const said = document.getElementById('said');

/** @param {string} text @param {boolean} isProblem */
function say(text, isProblem) {
  said.textContent = text;
  said.className = isProblem ? 'problem' : '';
}

if (secret === '') say('This address has no secret. Use the whole link that the service printed when it started.', true);

form.addEventListener('submit', async (event) => {
  event.preventDefault();
  const button = form.querySelector('button');
  const { name, displayName, password } = Object.fromEntries(new FormData(form));
  button.disabled = true;
  say('One moment …', false);
  try {
    const response = await fetch('/api/v1/first-account', {
      method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ token: secret, name, displayName, password }),
    });
    const answer = await response.json();
    if (!response.ok) {
      const faults = (answer.faults ?? []).map((fault) => `${fault.path}: ${fault.message}`).join(' ');
      say([answer.detail, faults, answer.remedy].filter(Boolean).join(' '), true);
      return;
    }
    form.hidden = true;
    say(`The account of ${answer.person.displayName} is made, and you are signed in here.`, false);
  } catch {
    say('The service does not answer. Look whether it still runs, and try again: nothing that you typed is lost.', true);
  } finally {
    button.disabled = false;
  }
});
