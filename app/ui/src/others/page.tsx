// Others: how the toy fares in other hands, for other stock, and beside another edition.

import { Builds } from "./builds";
import { Adapt } from "./adapt";
import { Compare } from "./compare";
import { Hint } from "../hint";
import { useKept } from "../kept";
import { useJob } from "../outputs/ask";
import { ShopChoice } from "../outputs/parts";

export function OthersPage() {
  const [shop, setShop] = useKept("shop", "");
  const job = useJob(1, shop);
  return (
    <div class="outputs others">
      <form class="asks" onSubmit={(e) => e.preventDefault()} aria-label="Whose shop">
        <ShopChoice value={shop} set={setShop} />
      </form>
      <Hint id="others" done={shop !== ""}>A toy that holds on paper still has to hold in other hands. Here it is built many times, a little off everywhere, made for other stock, and set beside an older edition.</Hint>
      <Builds job={job} />
      <Adapt job={job} />
      <Compare job={job} />
    </div>
  );
}
