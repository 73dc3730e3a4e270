/**
 * The hatching of guard bands as a pattern to fill with: `fill="url(#id)"`. It stands inside the drawing that uses it.
 * @param id one of its own on the whole page (`useId`)
 */
export function Hatching({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path className="window-bar-hatch" d="M 3 0 V 6" />
      </pattern>
    </defs>
  );
}
