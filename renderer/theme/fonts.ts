// Regular and semibold only: everything else is size and ink. Each holds the Latin and the extended Latin letters.
import '@fontsource/atkinson-hyperlegible-next/400.css';
import '@fontsource/atkinson-hyperlegible-next/600.css';
import '@fontsource/atkinson-hyperlegible-mono/400.css';
