import { useRef } from 'react';
import type { Expected } from '../../core/network/expected.ts';
import type { Network, Terminals } from '../../core/network/network.ts';
import { Action } from '../controls/action.tsx';
import { Confirm } from '../controls/confirm.tsx';
import { keptForms } from '../controls/useKept.ts';
import { type Draft, EMPTY_DRAFT } from '../receive/draft.ts';
import { goTo } from '../route.ts';
import { remembered } from '../theme/remembered.ts';
import { partFieldsOf } from './networkPart.ts';

/** Receiving a lot of such networks, each piece being one: the receiving form is filled in, and one that was begun is not touched unasked. */
export function InspectAsPart(props: { network: Network; terminals: Terminals; expected: Expected }) {
  const fillInstead = useRef<HTMLDialogElement>(null);
  const fields = partFieldsOf(props.network, props.terminals, props.expected);

  function fill() {
    const begun = keptForms.left<Draft>('receive') ?? { ...EMPTY_DRAFT, inspector: remembered('inspector') ?? '' };
    keptForms.keep('receive', { ...begun, ...fields });
    goTo({ screen: 'receive' });
  }

  if (fields === null) {
    return <p className="quiet">With tolerances there is a window, and a lot of such networks can be inspected.</p>;
  }
  return (
    <>
      <div className="actions">
        <Action onPress={() => (keptForms.left('receive') === null ? fill() : fillInstead.current?.showModal())}>
          Inspect a lot of these
        </Action>
        <p className="small quiet network-inspect">
          Fills in the value of “Receive a lot” and its limits, those of the worst case.
        </p>
      </div>
      <Confirm
        ref={fillInstead}
        title="Fill in the form that was begun?"
        words="Fill in the part"
        otherwise="Keep what is there"
        onConfirm={fill}
      >
        <p>
          “Receive a lot” is half filled in. Its part and its limits would be those of this network; the rest stays.
        </p>
      </Confirm>
    </>
  );
}
