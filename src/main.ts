import { mount } from 'svelte';
import './ui/look.css';
import App from './ui/App.svelte';

// a site may have no network: keep the page itself on the device (the built page only; an update waits for the next visit)
if (import.meta.env.PROD && 'serviceWorker' in navigator)
  navigator.serviceWorker.register('./offline.js').catch(() => undefined);

mount(App, { target: document.getElementById('app')! });
