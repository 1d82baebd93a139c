/** What a stage of the work is called while it runs. */
export const STAGE_WORDS: Readonly<Record<string, string>> = {
  'read-scan': 'reading the scan', repair: 'mending the surface', shell: 'taking off the wall', align: 'standing the foot up', 'find-marks': 'looking for marks', 'smooth-marks': 'smoothing marks',
  measure: 'measuring', 'check-cast': 'checking the cast', 'build-last': 'building the last', 'draw-sheet': 'drawing the sheet', 'draw-note': 'writing the note',
};

export interface Stage {
  readonly state: string;
  readonly stage: string | null;
  readonly done: number | null;
  readonly of: number | null;
}

/** How far the work on a cast is: the stage in words and a bar. */
export function StageLine({ told }: { readonly told: Stage | null | undefined }) {
  if (told == null || told.state === 'waiting' || told.stage === null) return <span class="stage-line quiet small">waits for its turn</span>;
  const { stage, done, of } = told;
  const says = STAGE_WORDS[stage] ?? stage;
  return (
    <span class="stage-line small">
      <progress max={of ?? 1} value={done ?? 0} aria-label={`Work on the cast: ${says}`} />
      <span>{says}{done !== null && of !== null ? `, ${done + 1} of ${of}` : ''}</span>
    </span>
  );
}
