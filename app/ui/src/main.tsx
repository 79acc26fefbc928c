import { render } from "preact";
import { takeToken } from "./call";
import { App } from "./app";

takeToken();
const place = document.getElementById("app")!;
place.textContent = ""; // what stood there for those who wait
render(<App />, place);
