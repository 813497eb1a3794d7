package ferrule.bench;

import java.util.Optional;

/** What is still wanting before a draft can be signed. */
final class Wanting {

  private Wanting() {}

  /** What is wanting, in sentences; empty if nothing is. */
  static Optional<String> of(Draft draft, Task task, boolean noPhotos) {
    if (!draft.entries().cautionsConfirmed()) {
      return Optional.of("The cautions have not been confirmed.");
    }
    Grading grading = Grading.of(task, draft.entries());
    if (!grading.isComplete()) {
      long open = grading.openCount();
      return Optional.of((open == 1 ? "One criterion is" : open + " criteria are")
          + " still open; each is marked below. What you entered is kept.");
    }
    if (isPhoto(draft, task, noPhotos)) {
      return Optional.of("This work asks for a photo. Add one below; what you entered is kept.");
    }
    boolean noReason = draft.corrects().isPresent() && draft.entries().reason().isEmpty();
    return noReason ? Optional.of("Say why you correct the record. What you entered is kept.") : Optional.empty();
  }

  /** Whether a photo is: blind second grades need none. */
  static boolean isPhoto(Draft draft, Task task, boolean noPhotos) {
    return task.photoAsked() && draft.blindOf().isEmpty() && noPhotos;
  }
}
