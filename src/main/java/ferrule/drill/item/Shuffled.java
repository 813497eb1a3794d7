package ferrule.drill.item;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.random.RandomGenerator;

/** Lists in an order drawn by lot (the shuffle of Fisher and Yates). */
final class Shuffled {

  private Shuffled() {}

  static <T> List<T> of(List<T> list, RandomGenerator random) {
    List<T> shuffled = new ArrayList<>(list);
    for (int i = shuffled.size() - 1; i > 0; i--) {
      Collections.swap(shuffled, i, random.nextInt(i + 1));
    }
    return shuffled;
  }

  static <T> T one(List<T> list, RandomGenerator random) {
    return list.get(random.nextInt(list.size()));
  }
}
