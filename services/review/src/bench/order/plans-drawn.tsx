import type { Order } from '@cast-to-last/pipeline/order';
import { footbedPlan, framePlan } from '../scene/ground-plan.js';
import type { Plan } from '../scene/ground-plan.js';
import { segments } from '../scene/lines.js';
import type { Stage } from '../scene/stage.js';
import { Anchored } from './anchored.js';
import type { BenchWork } from './bench-work.js';
import type { Foot } from './foot.js';
import { sceneColours } from './scene-colours.js';
import { useLines } from './use-lines.js';

interface PlanProps {
  readonly work: BenchWork;
  readonly stage: Stage;
  readonly foot: Foot;
}

/** The rest plane with its ruler, and the axes. */
export function FrameDrawn({ work, stage, foot }: PlanProps) {
  const size = stage.stands.get(foot.side)?.size ?? { length: 260, half: 50 };
  return <PlanDrawn stage={stage} foot={foot} plan={framePlan(size.length, size.half)} on={`${size.length} ${work.bodies.value[foot.side]}`} />;
}

/** The footbed that the order names, as it lay under the cast. */
export function FootbedDrawn({ work, stage, foot, footbed }: PlanProps & { readonly footbed: Order['footbed'] }) {
  const half = stage.stands.get(foot.side)?.size.half ?? 50;
  if (footbed === undefined) return <p class="scene-note" role="status">The order names no footbed.</p>;
  return <PlanDrawn stage={stage} foot={foot} plan={footbedPlan(footbed, half)} on={`${half} ${work.bodies.value[foot.side]}`} />;
}

function PlanDrawn({ stage, foot, plan, on }: { readonly stage: Stage; readonly foot: Foot; readonly plan: Plan; readonly on: string }) {
  useLines(stage, foot.side, () => {
    const colours = sceneColours();
    return [
      ...(plan.faint.length > 0 ? [segments(plan.faint, { colour: colours.line, width: 1, opacity: 0.45 })] : []),
      segments(plan.strong, { colour: colours.line, width: 1.75, opacity: 0.9 }),
    ];
  }, [on]);
  return <Anchored stage={stage} words anchors={plan.words.map(({ text, at }) => ({ key: text, side: foot.side, at, normal: null, class: 'plan-word', shown: text }))} />;
}
