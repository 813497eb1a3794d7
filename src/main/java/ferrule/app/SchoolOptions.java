package ferrule.app;

import ferrule.people.SchoolProvider;
import java.net.URI;
import java.util.Optional;
import picocli.CommandLine.Option;

/** Where a school's own accounts are, if people may come in by those: an OpenID provider. */
final class SchoolOptions {

  @Option(
      names = "--oidc-issuer",
      defaultValue = "${env:FERRULE_OIDC_ISSUER}",
      description = "Address of the school's OpenID provider; people may then come in by their account there. It must "
          + "know the address …/sign-in/school/back of this server (FERRULE_OIDC_ISSUER).")
  private String issuer;

  @Option(
      names = "--oidc-client-id",
      defaultValue = "${env:FERRULE_OIDC_CLIENT_ID}",
      description = "As whom the provider knows Ferrule (FERRULE_OIDC_CLIENT_ID). Its secret is read from "
          + "FERRULE_OIDC_CLIENT_SECRET.")
  private String clientId;

  @Option(
      names = "--oidc-title",
      defaultValue = "${env:FERRULE_OIDC_TITLE:-school account}",
      description = "By what people know that account (FERRULE_OIDC_TITLE; default: ${DEFAULT-VALUE}).")
  private String title;

  @Option(
      names = "--oidc-name-claim",
      defaultValue = "${env:FERRULE_OIDC_NAME_CLAIM}",
      description = "The claim that is the name to sign in with here, such as preferred_username. Name one only if the "
          + "provider lets nobody choose it; without one everyone connects their accounts themselves "
          + "(FERRULE_OIDC_NAME_CLAIM).")
  private String nameClaim;

  /** The provider, if one is named; throws {@link IllegalArgumentException} with what is wrong. */
  Optional<SchoolProvider> provider() {
    return given(issuer).map(
        address -> new SchoolProvider(
            URI.create(address), given(clientId).orElse(""), given(System.getenv("FERRULE_OIDC_CLIENT_SECRET")), title,
            given(nameClaim)));
  }

  private static Optional<String> given(String text) {
    return Optional.ofNullable(text).filter(t -> !t.isBlank());
  }
}
