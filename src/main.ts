import { mount } from 'svelte';
import './ui/look.css';
import App from './ui/App.svelte';

mount(App, { target: document.getElementById('app')! });
