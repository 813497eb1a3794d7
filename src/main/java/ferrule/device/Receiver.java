package ferrule.device;

import java.util.Set;

/** A feature that takes in what was made without a network. */
public interface Receiver {

  /** The kinds of delivery that it takes. */
  Set<String> kinds();

  /**
   * Takes a delivery in. It may be asked twice about the same one, at once too, where a reply was lost: it answers the
   * same and does nothing twice.
   */
  Receipt receive(Delivery delivery);
}
