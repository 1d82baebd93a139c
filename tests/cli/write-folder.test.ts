import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { CAST_FILE_NAMES, CHECK_FILE_NAMES } from '@cast-to-last/pipeline/files/cast-files';
import { WrongCall } from '@cast-to-last/cli/wrong-call';
import { checkFolder, writeFolder } from '@cast-to-last/cli/write-folder';

const root = mkdtempSync(join(tmpdir(), 'cast-to-last-folder-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const file = (name: string, content: string) => ({ name, bytes: new TextEncoder().encode(content) });
const read = (...path: string[]): string => readFileSync(join(root, ...path), 'utf8');

describe('writeFolder', () => {
  it('makes the folder and those above it, and leaves nothing beside it', async () => {
    await writeFolder(join(root, 'a', 'b'), [file('last.stl', 'one'), file('sheet.pdf', 'two')], CAST_FILE_NAMES);
    expect(readdirSync(join(root, 'a'))).toEqual(['b']);
    expect(readdirSync(join(root, 'a', 'b')).sort()).toEqual(['last.stl', 'sheet.pdf']);
    expect(read('a', 'b', 'last.stl')).toBe('one');
  });

  it('replaces results of before, takes away those that are not there any more, and leaves what is not its own', async () => {
    const folder = join(root, 'again');
    mkdirSync(folder);
    for (const name of ['last.stl', 'sheet.pdf', 'notes.txt']) writeFileSync(join(folder, name), 'old');
    await writeFolder(folder, [file('last.stl', 'new')], CAST_FILE_NAMES);
    expect(readdirSync(folder).sort()).toEqual(['last.stl', 'notes.txt']);
    expect(read('again', 'last.stl')).toBe('new');
    expect(read('again', 'notes.txt')).toBe('old');
  });

  it('takes away of its own names alone: a check leaves a last where it lies, and an old note goes', async () => {
    const folder = join(root, 'checked');
    mkdirSync(folder);
    for (const name of ['last.stl', 'check.json', 'recast-note.pdf']) writeFileSync(join(folder, name), 'old');
    await writeFolder(folder, [file('check.json', 'new')], CHECK_FILE_NAMES);
    expect(readdirSync(folder).sort()).toEqual(['check.json', 'last.stl']);
    await writeFolder(folder, [file('last.stl', 'new'), file('recast-note.pdf', 'new')], [...CAST_FILE_NAMES, ...CHECK_FILE_NAMES]);
    expect(readdirSync(folder).sort()).toEqual(['last.stl', 'recast-note.pdf']);
  });

  it('leaves a folder untouched, and nothing half-written, where a file cannot be written', async () => {
    const folder = join(root, 'kept');
    mkdirSync(folder);
    writeFileSync(join(folder, 'last.stl'), 'old');
    await expect(writeFolder(folder, [file('last.stl', 'new'), file(join('no', 'such', 'place'), 'x')], CAST_FILE_NAMES)).rejects.toThrow();
    expect(readdirSync(folder)).toEqual(['last.stl']);
    expect(read('kept', 'last.stl')).toBe('old');
    expect(readdirSync(root).filter((name) => name.includes('.part'))).toEqual([]);
  });
});

describe('checkFolder', () => {
  it('lets pass a folder and a path where none is yet, and refuses a file and what lies in one', async () => {
    await checkFolder(root);
    await checkFolder(join(root, 'not', 'yet'));
    const path = join(root, 'file');
    writeFileSync(path, '');
    await expect(checkFolder(path)).rejects.toThrow(WrongCall);
    await expect(checkFolder(join(path, 'in'))).rejects.toThrow(WrongCall);
  });
});
