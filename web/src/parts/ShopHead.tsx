// The head of what belongs to the shop and to no job.
import { currentShop, shopAddressOf, shopScreens } from "../state/route";
import { words } from "../words/en";
import { bookWords } from "../words/en_book";
import { View } from "./Tape";

export function ShopHead() {
  const here = currentShop.value;
  return (
    <header class="shop-head">
      <b class="mark">{words.program}</b>
      <nav aria-label={bookWords.theShop}>
        <ul>
          {shopScreens.map((screen) => (
            <li key={screen}>
              <a href={shopAddressOf(screen)} aria-current={screen === here ? "page" : undefined}>
                {bookWords.screens[screen]}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <span class="room" />
      <View />
    </header>
  );
}
