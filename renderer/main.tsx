import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { wakeSoundByPress } from './sound/player.ts';
import { StationProvider } from './station/station.tsx';
import { stationOfThisWindow } from './station/stationOfThisWindow.ts';
import { applyAppearance, chosenAppearance, followContrast } from './theme/appearance.ts';
import './theme/fonts.ts';
import './theme/tokens.css';
import './theme/base.css';

applyAppearance(chosenAppearance());
followContrast();
wakeSoundByPress(window);
const screen = document.getElementById('screen');
if (screen) {
  createRoot(screen).render(
    <StationProvider line={stationOfThisWindow()}>
      <App />
    </StationProvider>,
  );
}
