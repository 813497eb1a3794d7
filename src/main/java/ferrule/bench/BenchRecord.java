package ferrule.bench;

import java.util.Optional;
import java.util.UUID;

/**
 * Something signed, that stays. A record is never changed: a correction or a withdrawal is a new record that points at
 * the one whose place it takes, and each record is pointed at by at most one.
 */
public sealed interface BenchRecord {

  /** Names the record for ever. */
  UUID id();

  /** Whose work it is about. */
  UUID apprentice();

  /** The apprentice's name as it stood then. */
  String apprenticeName();

  /** Who signed it and when. */
  Signature signature();

  /** The edition of the curriculum that it was graded by. */
  String edition();

  /** The record whose place it takes; empty for a sign-off. */
  default Optional<UUID> supersedes() {
    return Optional.empty();
  }

  /** The draft that it was signed from; empty for a withdrawal or a second signature. */
  default Optional<UUID> draft() {
    return Optional.empty();
  }

  /** The grade that it states; empty for a withdrawal or a second signature. */
  default Optional<Grade> grade() {
    return Optional.empty();
  }

  /** Why it was made; empty text for a sign-off or a second signature. */
  default String reason() {
    return "";
  }

  /** What it is called, as it is stored and shown. */
  String kind();

  private static void refuseOwnWork(UUID apprentice, Signature signature) {
    if (apprentice.equals(signature.by())) {
      throw new IllegalArgumentException("nobody signs their own work");
    }
  }

  private static void requireReason(String reason) {
    if (reason.isBlank()) {
      throw new IllegalArgumentException("a correction or a withdrawal gives its reason");
    }
  }

  /** A record that states a grade. */
  sealed interface Graded extends BenchRecord permits SignOff, Correction {

    /** The grade that is stated. */
    Grade signed();

    /** The draft that it was made in. */
    UUID fromDraft();

    @Override
    default UUID apprentice() {
      return signed().apprentice();
    }

    @Override
    default String apprenticeName() {
      return signed().apprenticeName();
    }

    @Override
    default Optional<UUID> draft() {
      return Optional.of(fromDraft());
    }

    @Override
    default Optional<Grade> grade() {
      return Optional.of(signed());
    }
  }

  /** A grade, signed. */
  record SignOff(UUID id, UUID fromDraft, Grade signed, Signature signature, String edition) implements Graded {

    /** The word for it. */
    public static final String KIND = "sign-off";

    /** Checks that nobody signs their own work. */
    public SignOff {
      refuseOwnWork(signed.apprentice(), signature);
    }

    @Override
    public String kind() {
      return KIND;
    }
  }

  /** A grade that takes the place of an earlier one. */
  record Correction(
      UUID id, UUID corrects, UUID fromDraft, String reason, Grade signed, Signature signature, String edition)
      implements Graded {

    /** The word for it. */
    public static final String KIND = "correction";

    /** Checks that there is a reason and that nobody signs their own work. */
    public Correction {
      refuseOwnWork(signed.apprentice(), signature);
      requireReason(reason);
    }

    @Override
    public Optional<UUID> supersedes() {
      return Optional.of(corrects);
    }

    @Override
    public String kind() {
      return KIND;
    }
  }

  /** The statement that an earlier sign-off or correction no longer counts. */
  record Withdrawal(
      UUID id,
      UUID withdraws,
      String reason,
      UUID apprentice,
      String apprenticeName,
      Signature signature,
      String edition)
      implements BenchRecord {

    /** The word for it. */
    public static final String KIND = "withdrawal";

    /** Checks that there is a reason and that it is not about the signer. */
    public Withdrawal {
      refuseOwnWork(apprentice, signature);
      requireReason(reason);
    }

    @Override
    public Optional<UUID> supersedes() {
      return Optional.of(withdraws);
    }

    @Override
    public String kind() {
      return KIND;
    }
  }

  /** The statement of another instructor, who saw the same grade and the work, that it stands. */
  record SecondSignature(
      UUID id, UUID seconds, UUID apprentice, String apprenticeName, Signature signature, String edition)
      implements BenchRecord {

    /** The word for it. */
    public static final String KIND = "second-signature";

    /** Checks that it is not about the signer. */
    public SecondSignature {
      refuseOwnWork(apprentice, signature);
    }

    @Override
    public String kind() {
      return KIND;
    }
  }
}
