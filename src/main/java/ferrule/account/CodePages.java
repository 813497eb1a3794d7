package ferrule.account;

import ferrule.people.OneTimeCode;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.RecoveryCode;
import ferrule.people.SecondStepStore;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** One-time codes: switching them on with an authenticator, new recovery codes, switching them off. */
public final class CodePages implements Pages {

  private static final String ISSUER = "Ferrule";

  private final PeopleStore people;
  private final SecondStepStore steps;

  /** The pages over this store. */
  public CodePages(PeopleStore people) {
    this.people = people;
    this.steps = people.secondSteps();
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/account/codes", ctx -> show(ctx, ""), Access.SIGNED_IN);
    routes.post("/account/codes/set-up", this::setUp, Access.SIGNED_IN);
    routes.post("/account/codes/on", this::on, Access.SIGNED_IN);
    routes.post("/account/codes/recovery", this::newRecovery, Access.SIGNED_IN);
    routes.post("/account/codes/off", this::off, Access.SIGNED_IN);
  }

  private void show(Context ctx, String problem) {
    Person person = Visit.person(ctx);
    Page.show(
        ctx,
        "account/codes",
        Map.of("problem", problem, "on", steps.isOn(person.id()), "left", steps.recoveryCodesLeft(person.id())));
  }

  /** Whether the password is right; if not, the page says so. */
  private boolean isProven(Context ctx) {
    Optional<String> wrong = new Proof(people).refusal(ctx.formParam("password"), Visit.signedIn(ctx).orElseThrow());
    wrong.ifPresent(
        why -> {
          ctx.status(401);
          show(ctx, why + " Nothing was changed.");
        });
    return wrong.isEmpty();
  }

  private void setUp(Context ctx) {
    if (isProven(ctx)) {
      showSecret(ctx, steps.begin(Visit.person(ctx).id()).orElseThrow(CodePages::onAlready), "");
    }
  }

  private static Refusal onAlready() {
    return Refusal.conflict("One-time codes are on already. Switch them off first if you have a new phone.");
  }

  private static void showSecret(Context ctx, OneTimeCode code, String problem) {
    String written = code.base32().replaceAll("(.{4})(?=.)", "$1 ");
    QrCode.Drawing picture = QrCode.draw(code.address(ISSUER, Visit.person(ctx).signInName()));
    Page.show(ctx, "account/codes-set-up", Map.of("written", written, "picture", picture, "problem", problem));
  }

  private void on(Context ctx) {
    Person person = Visit.person(ctx);
    if (steps.confirm(person.id(), Visit.formText(ctx, "code").orElse(""))) {
      showRecovery(ctx, steps.newRecoveryCodes(person.id()), true);
      return;
    }
    ctx.status(401);
    showSecret(
        ctx,
        steps.begin(person.id()).orElseThrow(CodePages::onAlready),
        "That code is not right. Type the one that the authenticator shows now; if it never fits, the phone's clock is "
            + "wrong.");
  }

  private void newRecovery(Context ctx) {
    if (isProven(ctx)) {
      showRecovery(ctx, steps.newRecoveryCodes(Visit.person(ctx).id()), false);
    }
  }

  private static void showRecovery(Context ctx, List<RecoveryCode> codes, boolean first) {
    Page.show(
        ctx, "account/recovery", Map.of("codes", codes.stream().map(RecoveryCode::toString).toList(), "first", first));
  }

  private void off(Context ctx) {
    if (isProven(ctx)) {
      steps.off(Visit.person(ctx).id());
      Page.goTo(ctx, "/account", "One-time codes are off. Take Ferrule out of your authenticator.");
    }
  }
}
