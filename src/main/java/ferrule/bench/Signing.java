package ferrule.bench;

import java.util.UUID;

/** What came of the wish to sign, correct or withdraw. */
public sealed interface Signing {

  /**
   * It has entered the log.
   *
   * @param entry the new record in its place
   */
  record Signed(LoggedRecord entry) implements Signing {}

  /**
   * This draft had been signed before; nothing was added.
   *
   * @param record what it became then
   */
  record SignedBefore(UUID record) implements Signing {}

  /** The draft has been changed or discarded since it was shown; nothing was added. */
  record Changed() implements Signing {}

  /**
   * The record had been corrected or withdrawn before; nothing was added.
   *
   * @param by the record that took its place
   */
  record TakenBefore(UUID by) implements Signing {}

  /**
   * Somebody signed the same task of the same apprentice on the same instrument while this draft was open; nothing was
   * added.
   *
   * @param record by which it was signed
   */
  record SignedByAnother(UUID record) implements Signing {}
}
