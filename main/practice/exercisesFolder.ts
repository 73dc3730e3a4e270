import { join } from 'node:path';

/** Where exercises of the user's own lie. @param data the station's data folder */
export function exercisesFolder(data: string): string {
  return join(data, 'exercises');
}
