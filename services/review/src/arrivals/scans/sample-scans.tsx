import { useState } from 'preact/hooks';
import { useAsked } from '../../parts/use-asked.js';
import { askBytes } from '../../server/ask.js';
import type { FirstStepsOrder } from '../../server/first-steps.js';
import { upload } from './begin.js';

/** For the sample order of the first steps: its scans at hand, to be used at once or to be kept and dropped. */
export function SampleScans({ orderId }: { readonly orderId: string }) {
  const asked = useAsked<FirstStepsOrder | null>('/samples/first-steps');
  const [busy, setBusy] = useState(false);
  const order = asked.body;
  if (order == null || order.orderId !== orderId) return null;
  const use = async (): Promise<void> => {
    setBusy(true);
    for (const { fileName } of order.scans) {
      const { bytes } = await askBytes(`/samples/scans/${fileName}`);
      upload(orderId, null, [new File([bytes], fileName)], { kind: 'positive', unit: 'auto' });
    }
    setBusy(false);
  };
  return (
    <>
      <button type="button" class="push" disabled={busy} onClick={() => void use()}>Use the sample {order.scans.length === 1 ? 'scan' : 'scans'}</button>
      {order.scans.map(({ fileName }) => <a key={fileName} href={`/api/v1/samples/scans/${fileName}`} download={fileName}>{fileName}</a>)}
    </>
  );
}
