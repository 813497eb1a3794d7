package ferrule.people;

import static ferrule.store.jooq.Tables.CODE_SECRET;
import static ferrule.store.jooq.Tables.RECOVERY_CODE;

import ferrule.store.Database;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.UUID;

/** One-time codes and the recovery codes that stand in for them. */
public final class SecondStepStore {

  private final Database database;
  private final Clock clock;

  SecondStepStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /** Whether a person is asked for a code after their password. */
  public boolean isOn(UUID personId) {
    return database.dsl().fetchExists(
        CODE_SECRET, CODE_SECRET.PERSON_ID.eq(personId).and(CODE_SECRET.CONFIRMED_AT.isNotNull()));
  }

  /** The secret that waits for its first code; a new one is made where none waits. Empty if codes are on already. */
  public Optional<OneTimeCode> begin(UUID personId) {
    return database.inTransaction(
        dsl -> {
          dsl.insertInto(CODE_SECRET)
              .set(CODE_SECRET.PERSON_ID, personId)
              .set(CODE_SECRET.SECRET, OneTimeCode.random().base32())
              .onConflictDoNothing()
              .execute();
          return dsl.selectFrom(CODE_SECRET).where(CODE_SECRET.PERSON_ID.eq(personId)).fetchOptional()
              .filter(row -> row.getConfirmedAt() == null)
              .map(row -> OneTimeCode.parse(row.getSecret()));
        });
  }

  /** Switches codes on by the first right one; returns whether it was right. */
  public boolean confirm(UUID personId, String code) {
    return database.inTransaction(
        dsl -> {
          var row = dsl.selectFrom(CODE_SECRET).where(CODE_SECRET.PERSON_ID.eq(personId)).forUpdate().fetchOne();
          if (row == null || row.getConfirmedAt() != null) {
            return false;
          }
          OptionalLong step = OneTimeCode.parse(row.getSecret()).step(digits(code), clock.instant(), row.getLastStep());
          step.ifPresent(
              taken ->
                  dsl.update(CODE_SECRET)
                      .set(CODE_SECRET.CONFIRMED_AT, clock.instant())
                      .set(CODE_SECRET.LAST_STEP, taken)
                      .where(CODE_SECRET.PERSON_ID.eq(personId))
                      .execute());
          return step.isPresent();
        });
  }

  /** Makes new recovery codes in place of all earlier ones; they can be shown now and never again. */
  public List<RecoveryCode> newRecoveryCodes(UUID personId) {
    List<RecoveryCode> codes = RecoveryCode.random();
    List<String> hashes = codes.stream().map(code -> Secrets.hash(code.text())).toList();
    database.transact(
        dsl -> {
          dsl.deleteFrom(RECOVERY_CODE).where(RECOVERY_CODE.PERSON_ID.eq(personId)).execute();
          for (int i = 0; i < codes.size(); i++) {
            dsl.insertInto(RECOVERY_CODE)
                .set(RECOVERY_CODE.PERSON_ID, personId)
                .set(RECOVERY_CODE.STARTS, codes.get(i).starts())
                .set(RECOVERY_CODE.CODE_HASH, hashes.get(i))
                .set(RECOVERY_CODE.MADE_AT, clock.instant())
                .execute();
          }
        });
    return codes;
  }

  /** How many recovery codes are left. */
  public int recoveryCodesLeft(UUID personId) {
    return database.dsl().fetchCount(
        RECOVERY_CODE, RECOVERY_CODE.PERSON_ID.eq(personId).and(RECOVERY_CODE.USED_AT.isNull()));
  }

  /** Takes the codes away: the password alone is enough again. */
  public void off(UUID personId) {
    database.transact(
        dsl -> {
          dsl.deleteFrom(CODE_SECRET).where(CODE_SECRET.PERSON_ID.eq(personId)).execute();
          dsl.deleteFrom(RECOVERY_CODE).where(RECOVERY_CODE.PERSON_ID.eq(personId)).execute();
        });
  }

  /** Whether a one-time code or a recovery code is right; whichever it was, it is right only once. */
  public boolean take(UUID personId, String code) {
    return takeCode(personId, digits(code)) || RecoveryCode.read(code).filter(c -> takeRecovery(personId, c)).isPresent();
  }

  private boolean takeCode(UUID personId, String code) {
    return database.inTransaction(
        dsl -> {
          var row = dsl.selectFrom(CODE_SECRET).where(CODE_SECRET.PERSON_ID.eq(personId)).forUpdate().fetchOne();
          if (row == null || row.getConfirmedAt() == null) {
            return false;
          }
          OptionalLong step = OneTimeCode.parse(row.getSecret()).step(code, clock.instant(), row.getLastStep());
          step.ifPresent(
              taken ->
                  dsl.update(CODE_SECRET).set(CODE_SECRET.LAST_STEP, taken)
                      .where(CODE_SECRET.PERSON_ID.eq(personId)).execute());
          return step.isPresent();
        });
  }

  private boolean takeRecovery(UUID personId, RecoveryCode code) {
    Optional<String> hash =
        database.dsl().select(RECOVERY_CODE.CODE_HASH).from(RECOVERY_CODE)
            .where(RECOVERY_CODE.PERSON_ID.eq(personId))
            .and(RECOVERY_CODE.STARTS.eq(code.starts())).and(RECOVERY_CODE.USED_AT.isNull())
            .fetchOptional(RECOVERY_CODE.CODE_HASH);
    return hash.filter(h -> Secrets.matches(code.text(), h)).isPresent()
        && database.dsl().update(RECOVERY_CODE).set(RECOVERY_CODE.USED_AT, clock.instant())
                .where(RECOVERY_CODE.PERSON_ID.eq(personId))
                .and(RECOVERY_CODE.STARTS.eq(code.starts())).and(RECOVERY_CODE.USED_AT.isNull())
                .execute() == 1;
  }

  private static String digits(String code) {
    return code.replaceAll("\\s", "");
  }
}
