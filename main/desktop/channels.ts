/** The two channels between the window and the station; nothing else passes. */
export const ASK = 'station:ask';
export const NEWS = 'station:news';
