import { type RefObject, useMemo, useRef, useState } from 'react';
import { partNumbered } from '../../core/part/findParts.ts';
import { type PartInput, part } from '../../core/part/part.ts';
import { type TextInput, useScanner } from '../keys/useScanner.ts';
import type { MarkingUsed } from '../marking/markingDialog.tsx';
import { useParts } from '../parts/useParts.ts';
import type { Draft } from './draft.ts';
import { type Filled, fillFromMarking, fillFromPart } from './filled.ts';
import { isUntouched, type PartDraft } from './partDraft.ts';
import { afterScan, firstEmpty, SCANNED_WORDS } from './scanTarget.ts';

type SetDraft = (change: (before: Draft) => Draft) => void;

/**
 * How the receiving form is filled other than by typing: from the parts list, off a part's marking, and by a scanner. Every field
 * stays as it may be edited, and it is known from where it came.
 */
export function useFilling(draft: Draft, setDraft: SetDraft, form: RefObject<HTMLFormElement | null>) {
  const { known } = useParts();
  const index = known?.index ?? null;
  const [filled, setFilled] = useState<Filled | null>(null);
  const [said, setSaid] = useState('');
  const [isLost, setLost] = useState(false);
  /** The form as it is after all that was done to it since it was drawn: two scans may come between two frames. */
  const latest = useRef(draft);
  latest.current = draft;

  function change(to: Draft, from: Filled | null) {
    latest.current = to;
    setDraft(() => to);
    setFilled(from);
  }

  function choose(chosen: PartInput) {
    const next = fillFromPart(latest.current, part.parse(chosen));
    change(next.draft, next.filled);
  }

  /** A number that was typed or scanned whole: its part fills the form. */
  function fillByNumber(number: string) {
    const found = index && partNumbered(index, number);
    if (found) choose(found);
  }

  function scanned(text: string, into: TextInput | null) {
    const field = into && form.current?.contains(into) ? into : null;
    const name = field ? field.name : firstEmpty(latest.current);
    if (!name) {
      setLost(true);
      setSaid(
        `${text} was scanned, but part, lot and reel number are there. Go to the field it belongs in and scan again.`,
      );
      return;
    }
    setLost(false);
    change({ ...latest.current, [name]: text }, filled);
    if (name === 'partNumber') fillByNumber(text);
    setSaid(`${SCANNED_WORDS[name as keyof typeof SCANNED_WORDS] ?? 'Field'}: ${text}`);
    if (field) moveOn(form.current, field, afterScan(name, latest.current));
  }
  useScanner(scanned);

  const filledNumber = filled?.from.kind === 'part' ? filled.from.part.number : null;
  const numbered = useMemo(() => index && partNumbered(index, draft.partNumber), [index, draft.partNumber]);

  return {
    index,
    filled,
    /** The part whose number stands in the form, where the form is not filled from it. */
    offered: numbered && numbered.number !== filledNumber ? numbered : null,
    /** What a scan did, for those who hear the screen. */
    said,
    /** The last scan had no field to go to. */
    isLost,
    choose,
    /** The number was left as it is: its part fills a form in which nothing else stands yet. */
    numberLeft: () => {
      const from = filled?.from.kind === 'part' ? (filled.fields as PartDraft) : null;
      if (draft.partNumber.trim() === from?.partNumber) return;
      if (isUntouched(draft, from)) fillByNumber(draft.partNumber);
    },
    useMarking: ({ marked, from }: MarkingUsed) => {
      const next = fillFromMarking(latest.current, marked, from);
      change(next.draft, next.filled);
    },
    takeBack: () => filled && change(filled.before, null),
    forget: () => setFilled(null),
  };
}

/** Puts the cursor into the field of that name, or into the one behind where it was. */
function moveOn(form: HTMLFormElement | null, from: TextInput, name: string | null): void {
  const fields = [...(form?.querySelectorAll<HTMLElement>('input[type=text], select') ?? [])].filter((field) =>
    field.checkVisibility(),
  );
  const next = name ? fields.find((field) => field.getAttribute('name') === name) : fields[fields.indexOf(from) + 1];
  next?.focus();
}
