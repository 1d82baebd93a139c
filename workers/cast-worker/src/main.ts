import { readConfig } from '@cast-to-last/runtime/config';

readConfig();
