import { Dialog } from '../parts/dialog.js';
import { keySets, keysShown } from '../parts/keys.js';
import './key-list.css';

const NAMES: Readonly<Record<string, string>> = { ArrowDown: '↓', ArrowUp: '↑', ArrowLeft: '←', ArrowRight: '→', Enter: 'Enter', Escape: 'Esc', ' ': 'Space' };

/** The keys that hold on this page; `?` opens it. */
export function KeyList() {
  if (!keysShown.value) return null;
  return (
    <Dialog title="Keys on this page" onClose={() => void (keysShown.value = false)}>
      <div class="key-list">
        {keySets.value.map(({ of, keys }) => (
          <section key={of}>
            <h3>{of}</h3>
            <dl>
              {keys.map(({ press, says }) => (
                <div key={press}>
                  <dt>{/^[A-Z]$/.test(press) && <kbd>Shift</kbd>}<kbd>{NAMES[press] ?? press.toUpperCase()}</kbd></dt>
                  <dd>{says}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
        <p class="quiet small">Keys hold while you are not typing in a field. <kbd>?</kbd> opens this list.</p>
      </div>
    </Dialog>
  );
}
