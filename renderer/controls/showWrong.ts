/** Goes to the first field of a form that is wrong. What is wrong must be seen, folded away or not. */
export function showWrong(form: HTMLFormElement | null): void {
  for (const folded of form?.querySelectorAll<HTMLDetailsElement>('details:has([aria-invalid="true"])') ?? []) {
    folded.open = true;
  }
  form?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
}
