/** Text of somebody else's file as it may be printed: what stands in it must not steer this terminal. */
export function tame(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}]/gu, ' ');
}
