import { startPage } from "./page.js";

startPage();
