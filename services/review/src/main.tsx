import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './look/tokens.css';
import './look/base.css';
import './look/parts.css';
import './look/lists.css';
import { render } from 'preact';
import { App } from './app/app.js';
import './app/look.js';

render(<App />, document.getElementById('app') as HTMLElement);
