package ferrule.web;

import ferrule.people.Entry;
import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Puzzle;
import ferrule.people.SignInStore;
import ferrule.people.SignedIn;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Signing in by name and password, and by a one-time code where there is one; signing out; asking for a new password. */
final class SignInPages implements Pages {

  private static final int UNAUTHORIZED = 401;
  private static final int TOO_MANY = 429;

  private final PeopleStore people;
  private final Gate gate;
  private final List<DemoAccount> demoAccounts;

  SignInPages(PeopleStore people, Gate gate, List<DemoAccount> demoAccounts) {
    this.people = people;
    this.gate = gate;
    this.demoAccounts = demoAccounts;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/", SignInPages::home, Access.SIGNED_IN);
    routes.get("/sign-in", ctx -> show(ctx, "", Optional.empty()), Access.ANYONE);
    routes.post("/sign-in", this::signIn, Access.ANYONE);
    routes.get("/sign-in/code", ctx -> showCode(ctx, ""), Access.ANYONE);
    routes.post("/sign-in/code", this::code, Access.ANYONE);
    routes.get("/sign-in/help", this::showHelp, Access.ANYONE);
    routes.post("/sign-in/help", this::help, Access.ANYONE);
    routes.post("/sign-out", this::signOut, Access.SIGNED_IN);
  }

  private static void home(Context ctx) {
    Page.Frame frame = ctx.attribute(Page.FRAME);
    Page.goTo(ctx, frame.home(Visit.signedIn(ctx).orElseThrow())
        .orElseThrow(() -> Refusal.notFound("There is no page for your role yet. Ask the coordinator.")));
  }

  private void show(Context ctx, String problem, Optional<Puzzle> puzzle) {
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("name", Visit.formText(ctx, "name").orElse(""));
    model.put("then", then(ctx));
    model.put("secret", gate.secret(ctx));
    model.put("accounts", demoAccounts);
    Page.Frame frame = ctx.attribute(Page.FRAME);
    model.put("site", frame.where().here());
    model.put("otherSites", frame.where().others());
    model.put("school", gate.schoolTitle().orElse(""));
    model.put("puzzle", puzzle.orElse(null));
    model.put("tablet", gate.tablet(ctx).orElse(null));
    Page.show(ctx, "web/sign-in", model);
  }

  private void signIn(Context ctx) {
    String name = Visit.formText(ctx, "name").orElse("");
    String password = Optional.ofNullable(ctx.formParam("password")).orElse("");
    Entry entry = people.signIns().enter(new SignInStore.Try(name, password, gate.browser(ctx), solution(ctx)));
    if (entry instanceof Entry.Right right) {
      goOn(ctx, right);
    } else if (entry instanceof Entry.WorkFirst first) {
      ctx.status(TOO_MANY);
      show(
          ctx,
          "Many wrong passwords were tried. So that nobody can try on and on, this browser first works something out, "
              + "which takes a few seconds. Type your password again meanwhile; nothing is wrong with your account.",
          Optional.of(first.puzzle()));
    } else if (entry instanceof Entry.NotFromHere not) {
      ctx.status(TOO_MANY);
      show(ctx, "Far too many wrong passwords were tried for this name. Until " + wait(not.until())
          + " it is let in only where it has signed in before, by passkey, or by a link from the coordinator.",
          Optional.empty());
    } else {
      ctx.status(UNAUTHORIZED);
      show(ctx, "The name or the password is not right. Check both and try again.", Optional.empty());
    }
  }

  private static String wait(Instant until) {
    return Moments.utc(until);
  }

  private static Optional<Puzzle.Solution> solution(Context ctx) {
    try {
      return Visit.formText(ctx, "puzzle")
          .flatMap(id -> Visit.formText(ctx, "puzzle-number").map(n -> new Puzzle.Solution(id, Long.parseLong(n))));
    } catch (NumberFormatException e) {
      return Optional.empty();
    }
  }

  private void goOn(Context ctx, Entry.Right right) {
    if (right.asksForCode()) {
      gate.awaitCode(ctx, right.person().id());
      Page.goTo(ctx, "/sign-in/code?then=" + encoded(then(ctx)));
    } else {
      gate.open(ctx, right.person().id(), Opening.How.PASSWORD);
      Page.goTo(ctx, then(ctx));
    }
  }

  private static String encoded(String path) {
    return java.net.URLEncoder.encode(path, java.nio.charset.StandardCharsets.UTF_8);
  }

  private static String then(Context ctx) {
    return Visit.localPath(ctx.method().name().equals("GET") ? ctx.queryParam("then") : ctx.formParam("then"));
  }

  private void showCode(Context ctx, String problem) {
    Optional<SignedIn> waiting = gate.awaitingCode(ctx);
    if (waiting.isEmpty()) {
      Page.goTo(ctx, "/sign-in?then=" + encoded(then(ctx)), "That took too long. Sign in again.");
      return;
    }
    Page.show(
        ctx, "web/sign-in-code", Map.of("problem", problem, "secret", gate.secret(ctx), "then", then(ctx)));
  }

  private void code(Context ctx) {
    Optional<SignedIn> waiting = gate.awaitingCode(ctx);
    if (waiting.isEmpty()) {
      showCode(ctx, "");
      return;
    }
    Person person = waiting.get().person();
    SignInStore.CodeEntry entry =
        people.signIns().enterCode(person.id(), Visit.formText(ctx, "code").orElse(""), gate.browser(ctx));
    if (entry instanceof SignInStore.CodeEntry.Wait w) {
      ctx.status(TOO_MANY);
      showCode(ctx, "Too many codes were wrong. None is taken until " + wait(w.until()) + ".");
    } else if (entry instanceof SignInStore.CodeEntry.Wrong) {
      ctx.status(UNAUTHORIZED);
      showCode(ctx, "That code is not right. Wait for the next one, or use a recovery code that you have not used yet.");
    } else {
      gate.open(ctx, person.id(), Opening.How.CODE);
      Page.goTo(ctx, then(ctx));
    }
  }

  private void showHelp(Context ctx) {
    Page.show(ctx, "web/sign-in-help", Map.of("secret", gate.secret(ctx), "asked", false));
  }

  // the answer is the same whether anyone has this name or not
  private void help(Context ctx) {
    Visit.formText(ctx, "name").ifPresent(people.signIns()::wantPassword);
    Page.show(ctx, "web/sign-in-help", Map.of("secret", gate.secret(ctx), "asked", true));
  }

  private void signOut(Context ctx) {
    gate.close(ctx);
    Page.goTo(ctx, gate.tablet(ctx).isPresent() ? "/tablet" : "/sign-in");
  }
}
