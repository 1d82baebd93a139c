import { writeFileSync } from 'node:fs';
import { licencesText } from './licences.mjs';

writeFileSync(new URL('./LICENCES.md', import.meta.url), licencesText());
