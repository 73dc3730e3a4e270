import { Action } from '../controls/action.tsx';
import './print.css';

/** Prints what is on the screen as clean pages: black on white, without buttons (print.css). */
export function PrintAction() {
  return (
    <Action keyName="p" onPress={() => window.print()}>
      Print
    </Action>
  );
}
