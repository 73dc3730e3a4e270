/** What a key was pressed on, as far as it matters here. */
export interface PressedOn {
  /** Lower case element name, like `input`. */
  element: string;
  /** The `type` of an input, else empty. */
  type: string;
  editable: boolean;
  /** Inside a dialog, which has keys of its own. */
  inDialog: boolean;
  /** The button that stands for this very key. */
  isOwnButton: boolean;
}

const TEXT_TYPES = new Set(['text', 'search', 'number', 'email', 'url', 'tel', 'password', '']);
const TAKE_ENTER = new Set(['button', 'a', 'summary', 'input', 'select', 'textarea']);
const TAKE_SPACE = new Set(['button', 'summary', 'input', 'select', 'textarea']);

/**
 * Whether a key of the job may be taken from where it was pressed. Letters belong to text fields, Enter and Space to
 * whatever has the focus and does something with them; nothing is taken from inside a dialog.
 */
export function keyIsFree(key: string, on: PressedOn): boolean {
  if (on.inDialog || on.editable) return false;
  if (on.isOwnButton) return true;
  if (key === 'Enter') return !TAKE_ENTER.has(on.element);
  if (key === ' ') return !TAKE_SPACE.has(on.element);
  const writes =
    on.element === 'textarea' || on.element === 'select' || (on.element === 'input' && TEXT_TYPES.has(on.type));
  return !writes;
}

/** Whether it was pressed while text was written, outside dialogs. */
export function isTextField({ element, type, inDialog }: PressedOn): boolean {
  return element === 'input' && TEXT_TYPES.has(type) && !inDialog;
}

/** Reads {@link PressedOn} from the element that has the focus. */
export function pressedOn(target: EventTarget | null, ownKey: string): PressedOn {
  if (!(target instanceof HTMLElement)) {
    return { element: '', type: '', editable: false, inDialog: false, isOwnButton: false };
  }
  return {
    element: target.localName,
    type: target instanceof HTMLInputElement ? target.type : '',
    editable: target.isContentEditable,
    inDialog: target.closest('dialog, [popover]') !== null,
    isOwnButton: target.dataset.key === ownKey,
  };
}
