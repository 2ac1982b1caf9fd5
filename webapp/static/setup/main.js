// The page of a lineup: begin to edit.

import { Editor } from "./editor.js";

const page = document.getElementById("editor");
page.editor = new Editor(page);
