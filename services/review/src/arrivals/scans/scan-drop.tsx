import { useEffect, useState } from 'preact/hooks';
import type { LengthUnit, ScanKind } from '@cast-to-last/pipeline/records';
import { Field } from '../../parts/field.js';
import { useAsked } from '../../parts/use-asked.js';
import type { Page } from '../../server/page.js';
import { numberOf } from '../../parts/number-of.js';
import type { ArrivedCast } from '../../server/arrivals.js';
import { SCAN_FILES, upload } from './begin.js';
import { SampleScans } from './sample-scans.js';
import { send } from './send.js';
import { takeUpAgain, uploads } from './uploads.js';
import type { Particulars } from './uploads.js';
import { UploadLine } from './upload-line.js';
import { wallFault } from './wall-fault.js';
import './scan-drop.css';

interface Scanner {
  readonly id: string;
  readonly name: string;
  readonly retiredAt: string | null;
}

const KINDS: readonly (readonly [ScanKind, string])[] = [['positive', 'a poured positive'], ['outside', 'the outside of the shell'], ['inside', 'the inside of the shell']];
const UNITS: readonly (readonly [LengthUnit | 'auto', string])[] = [['auto', 'told from the size'], ['mm', 'mm'], ['cm', 'cm'], ['m', 'm'], ['in', 'inches']];

export interface ScanDropProps {
  readonly orderId: string;
  readonly casts: readonly ArrivedCast[];
}

/** Where the scans of both feet are dropped, what is told of them, and those that are on their way. */
export function ScanDrop({ orderId, casts }: ScanDropProps) {
  const scanners = useAsked<Page<Scanner>>('/scanners');
  const [kind, setKind] = useState<ScanKind>('positive');
  const [unit, setUnit] = useState<LengthUnit | 'auto'>('auto');
  const [wall, setWall] = useState('');
  const [scannerId, setScannerId] = useState('');
  const [over, setOver] = useState(false);
  useEffect(() => void takeUpAgain().then((again) => {
    for (const { key, state } of again) if (state === 'sending') void send(key);
  }), []);

  const wallMm = numberOf(wall);
  const fault = kind === 'positive' ? undefined : wallFault(wall);
  const particulars: Particulars = { kind, unit, ...(kind !== 'positive' && wallMm !== null && { wallMm }), ...(scannerId !== '' && { scannerId }) };
  const take = (chosen: FileList | null | undefined): void => {
    if (fault === undefined) upload(orderId, null, chosen ?? [], particulars);
  };
  const mine = uploads.value.filter((of) => of.orderId === orderId);
  const targets = (['left', 'right'] as const).flatMap((side) => casts.findLast((cast) => cast.side === side && cast.waits !== 'replaced') ?? []);
  const waiting = casts.some(({ waits }) => ['post', 'drying', 'scan', 'trouble', 'sent-back'].includes(waits));
  return (
    <section class={`scan-drop${waiting ? '' : ' aside'}`} aria-labelledby="scans">
      <div class={`drop-field${over ? ' drag-over' : ''}`} onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }} onDragLeave={() => setOver(false)} onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        take(event.dataTransfer?.files);
      }}>
        <h2 id="scans">Scans</h2>
        <p>{waiting ? 'Drop the scans here, of both feet at once if you like: the shape tells left from right. STL, PLY or OBJ.' : 'Every cast has its scan. A further one is worked on anew.'}</p>
        <div class="buttons">
          <label class="push chief file-push">Choose scans<input type="file" multiple accept={SCAN_FILES} disabled={fault !== undefined} onChange={(event) => {
            take(event.currentTarget.files);
            event.currentTarget.value = '';
          }} /></label>
          {waiting && <SampleScans orderId={orderId} />}
        </div>
        {fault !== undefined && <p class="problem" role="alert">The wall of the shell {fault}. Mend it below, or leave it empty; then choose the scans.</p>}
        <details>
          <summary>They show {KINDS.find(([of]) => of === kind)?.[1]}, unit {UNITS.find(([of]) => of === unit)?.[1]}</summary>
          <div class="inputs">
            <Field label="What was scanned">{(tie) => <select {...tie} value={kind} onChange={(e) => setKind(e.currentTarget.value as ScanKind)}>{KINDS.map(([of, says]) => <option key={of} value={of}>{says}</option>)}</select>}</Field>
            <Field label="Unit of the file">{(tie) => <select {...tie} value={unit} onChange={(e) => setUnit(e.currentTarget.value as LengthUnit | 'auto')}>{UNITS.map(([of, says]) => <option key={of} value={of}>{says}</option>)}</select>}</Field>
            {kind !== 'positive' && <Field label="Wall (mm)" hint="empty: the order's" fault={fault}>{(tie) => <input {...tie} inputMode="decimal" value={wall} onInput={(e) => setWall(e.currentTarget.value)} />}</Field>}
            {(scanners.body?.items.length ?? 0) > 0 && (
              <Field label="Scanner">{(tie) => (
                <select {...tie} value={scannerId} onChange={(e) => setScannerId(e.currentTarget.value)}>
                  <option value="">not named</option>
                  {scanners.body?.items.filter(({ retiredAt }) => retiredAt === null).map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
                </select>
              )}</Field>
            )}
          </div>
        </details>
      </div>
      {mine.length > 0 && <ul class="upload-lines">{mine.map((of) => <UploadLine key={of.key} upload={of} casts={targets} />)}</ul>}
    </section>
  );
}
