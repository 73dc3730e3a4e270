import { type KeyboardEvent, useId, useRef } from 'react';
import { TERMS, type TermName } from './terms.ts';
import './whatItMeans.css';

/** A mouse that only passes by asks nothing. */
const PAUSE_MILLISECONDS = 400;

/**
 * Opens the meaning of the field that has the focus when F1 is pressed there: the question marks themselves are left out when one
 * goes from field to field, since the form is filled in all day.
 */
export function openMeaning(event: KeyboardEvent<HTMLElement>): void {
  if (event.key !== 'F1') return;
  const mark = event.currentTarget.querySelector<HTMLButtonElement>('.what-it-means > button');
  if (!mark) return;
  event.preventDefault();
  event.stopPropagation();
  mark.click();
}

/**
 * A question mark behind a term that shows what it means and where its rule comes from: by F1 in its field, by touch, or when a
 * mouse rests on it. Escape and a press elsewhere put it away.
 */
export function WhatItMeans({ term }: { term: TermName }) {
  const id = useId();
  const words = useRef<HTMLDivElement>(null);
  const due = useRef<ReturnType<typeof setTimeout>>(undefined);
  const { name, means, source } = TERMS[term];
  const leave = () => clearTimeout(due.current);
  return (
    <span className="what-it-means">
      <button
        type="button"
        tabIndex={-1}
        aria-label={`What it means: ${name}`}
        aria-keyshortcuts="F1"
        popoverTarget={id}
        onPointerEnter={({ pointerType, currentTarget }) => {
          if (pointerType !== 'mouse') return;
          due.current = setTimeout(() => words.current?.showPopover({ source: currentTarget }), PAUSE_MILLISECONDS);
        }}
        onPointerLeave={leave}
        onPointerDown={leave}
      >
        <span aria-hidden="true">?</span>
      </button>
      <div id={id} ref={words} popover="auto" className="what-it-means-words">
        <p>
          <strong>{name}.</strong> {means}
        </p>
        <p className="small quiet">{source}</p>
      </div>
    </span>
  );
}
