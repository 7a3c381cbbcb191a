import type { Path } from '../uncertainty/path.ts';
import type { Instruments } from './instruments.ts';
import type { RunData } from './schema/trial.ts';
import type { Patch, Print, Prints, SeenPrint } from './trial.ts';

type PatchData = NonNullable<NonNullable<RunData['prints']>['patches']>[number];

/** What was measured on the prints of a run, each reading by its place. */
export function printsOf(data: RunData['prints'], path: Path, instruments: Instruments): Prints {
  const density = (at: Path, value: Parameters<Instruments['read']>[3]) =>
    instruments.read('densitometer', '1', at, value);
  return {
    patches: (data?.patches ?? []).map((patch, index) =>
      patchOf(patch, [...path, 'patches', index], instruments),
    ),
    background: density([...path, 'background'], data?.background),
    fixing: {
      before: density([...path, 'fixing', 'before'], data?.fixing?.before),
      after: density([...path, 'fixing', 'after'], data?.fixing?.after),
    },
    registration: instruments.read(null, 'mm', [...path, 'registration'], data?.registration),
    marks: (data?.marks ?? []).map(({ distance, slot, note }, index) => ({
      path: [...path, 'marks', index],
      distance,
      slot: slot ?? null,
      note: note ?? null,
    })),
    byEye: byEyeOf(data?.by_eye, [...path, 'by_eye'], instruments),
  };
}

type ByEyeData = NonNullable<RunData['prints']>['by_eye'];

function byEyeOf(data: ByEyeData, path: Path, instruments: Instruments): readonly SeenPrint[] | null {
  if (data == null) return null;
  return data.map(({ attribute, slot, stage, batch, severity, by, against, note }, index) => {
    const at = [...path, index];
    if (severity === null) instruments.pending.push([...at, 'severity']);
    return {
      path: at,
      attribute,
      slot: slot ?? null,
      stage: stage ?? null,
      batch: batch?.value.toFixed() ?? null,
      against: against ?? 'reference',
      severity,
      by: by ?? null,
      note: note ?? null,
    };
  });
}

function patchOf(data: PatchData, path: Path, instruments: Instruments): Patch {
  const print = (key: 'reference' | 'first' | 'last'): Print => {
    const at = [...path, key];
    const read = data[key];
    const lab = (place: 0 | 1 | 2) =>
      instruments.read(
        'colorimeter',
        '1',
        [...at, 'lab', place],
        read?.lab === null ? null : read?.lab?.[place],
      );
    return {
      density: instruments.read('densitometer', '1', [...at, 'density'], read?.density),
      lab: [lab(0), lab(1), lab(2)],
      gloss: instruments.read('glossmeter', 'GU', [...at, 'gloss'], read?.gloss),
    };
  };
  return {
    path,
    name: data.patch,
    slot: data.slot ?? null,
    reference: print('reference'),
    first: print('first'),
    last: print('last'),
  };
}
