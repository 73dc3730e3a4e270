import { Action } from '../controls/action.tsx';
import './print.css';

/** Prints what is on the screen as clean pages: black on white, without buttons (print.css). */
export function PrintAction({ words = 'Print', keyName = 'p' }: { words?: string; keyName?: string }) {
  return (
    <Action keyName={keyName} onPress={() => window.print()}>
      {words}
    </Action>
  );
}
