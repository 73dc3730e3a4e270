import { createElement, useEffect, useState } from 'react';
import { createRoot } from 'react-dom/client';

// The least a page can do: React, and a number that is painted as it comes.
function Page() {
  const [piece, setPiece] = useState('');
  useEffect(() => {
    const socket = new WebSocket(location.href.replace('http', 'ws'));
    socket.addEventListener('message', ({ data }) => setPiece(JSON.parse(data).piece));
    return () => socket.close();
  }, []);
  return createElement('p', { className: 'reading-of' }, `Piece ${piece}`);
}

createRoot(document.body.appendChild(document.createElement('div'))).render(createElement(Page));
