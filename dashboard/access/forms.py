"""The pages to log in, to log out and to change one's own password: plain forms, which need nothing of a page."""

from collections.abc import Sequence

from markupsafe import Markup

from dashboard.shared.person import Person
from shotlog.access.accounts import Account
from shotlog.access.passwords import LONGEST, SHORTEST
from shotlog.access.roles import ROLES, may
from shotlog.wording.accounts import account_said

__all__ = ["account_page", "accounts_page", "log_in_page"]

_PAGE = Markup(
    """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>shotlog</title>
<link rel="icon" type="image/svg+xml" href="/assets/mark.svg">
<link rel="stylesheet" href="/assets/log-in.css">
<script src="/assets/log-in.js" defer></script>
</head>
<body class="log-in-page">
<main>
<h1>{title}</h1>
{said}
{content}
</main>
</body>
</html>
"""
)
_FIELD = Markup(
    '<label><span>{label}</span><input name="{name}" type="{kind}" value="{value}" autocomplete="{fills}"'
    ' maxlength="{longest}" required{more}></label>'
)
_FORM = Markup(
    '<form method="post" action="{to}">{fields}<input type="hidden" name="{token_name}" value="{token}">'
    '<button type="submit">{button}</button></form>'
)
_SHOWS = Markup(
    '<label class="tick"><input type="checkbox" class="shows" autocomplete="off"><span>Show it</span></label>'
)
_BACK = Markup('<p><a class="button" href="/">Back to the press</a></p>')
_MOST_NAME = 40
_NEW = f"New password, {SHORTEST} to {LONGEST} characters, any of them"


def log_in_page(token: tuple[str, str], *, said: str = "", name: str = "", back: str = "", plain: str = "") -> str:
    """Return the page to log in on.

    `token`: name and value of the field against foreign pages; `back`: where it leads on to; `plain`: that what is
    typed crosses the network for others to read.
    """
    fields = [
        _field("name", "Name", "text", "username", _MOST_NAME, name, focus=not name),
        _field("password", "Password", "password", "current-password", 4 * LONGEST, focus=bool(name)),
        _SHOWS,
        _input("next", back),
    ]
    warned = [Markup('<p class="said">Careful: {}.</p>').format(plain)] if plain else []
    return _page("Log in", said, [*warned, _form("/log-in", fields, token, "Log in")])


def account_page(person: Person, changed: Sequence[str], token: tuple[str, str], *, said: str = "") -> str:
    """Return the page of who is logged in: who that is, its last changes, the way out, another password."""
    keeps = may(person.role, "accounts")
    about = Markup("<p>Logged in as <b>{}</b>, {}. Entries are signed {}.</p>").format(
        person.account, person.role, person.initials
    )
    fields = [
        # a field for the name lets the keeper of passwords of a browser know whose it is
        Markup('<input type="text" name="name" value="{}" autocomplete="username" hidden>').format(person.account),
        _field("password", "Password now", "password", "current-password", 4 * LONGEST),
        _field("new", _NEW, "password", "new-password",
               4 * LONGEST),
        _field("again", "The new one once more", "password", "new-password", 4 * LONGEST),
        _SHOWS,
    ]  # fmt: skip
    accounts = [Markup('<p><a class="button" href="/accounts">All accounts</a></p>')] if keeps else []
    content = [
        about,
        *(Markup("<p>Changed last: {}.</p>").format(one) for one in changed),
        _BACK,
        *accounts,
        _form("/log-out", [], token, "Log out"),
        Markup("<h2>Another password</h2>"),
        _form("/account", fields, token, "Change the password"),
    ]
    return _page("Your account", said, content)


def accounts_page(
    accounts: Sequence[Account], changes: Sequence[str], token: tuple[str, str], *, said: str = ""
) -> str:
    """Return the page of whoever looks after the accounts: who there is, what can be changed, what became of them."""
    new = [
        _input("what", "add"),
        _field("name", "Name", "text", "off", _MOST_NAME),
        _field("initials", "Initials, which sign what is entered", "text", "off", 8),
        _choice(ROLES[1]),
        _field("new", _NEW, "password", "new-password", 4 * LONGEST),
        *_own(),
    ]
    became = [Markup("<h2>What became of them</h2>"), *(Markup("<p>{}</p>").format(line) for line in changes)]
    content = [
        _BACK,
        *(_card(one, token) for one in accounts),
        Markup("<h2>A new account</h2>"),
        _form("/accounts", new, token, "Make the account"),
        *(became if changes else []),
    ]
    return _page("Accounts", said, content)


def _card(account: Account, token: tuple[str, str]) -> Markup:
    """Return what an account is, and what can be changed of it; a closed one is only named."""
    head = account_said(account.name, account.role, account.initials)
    if not account.is_open:
        return Markup("<p>{}: closed</p>").format(head)
    new = _field("new", _NEW, "password", "new-password", 4 * LONGEST)
    changes = {
        "role": ([_choice(account.role)], "Give this role"),
        "password": ([new], "Give this password"),
        "close": ([], f"Close the account of {account.name}"),
    }
    forms = [
        _form("/accounts", [_input("name", account.name), _input("what", what), *fields, *_own()], token, button)
        for what, (fields, button) in changes.items()
    ]
    return Markup("<details><summary>{}</summary>{}</details>").format(head, Markup().join(forms))


def _own() -> list[Markup]:
    """Return the field for the password of who makes a change: a screen left open makes none."""
    return [_field("own", "Your own password", "password", "current-password", 4 * LONGEST), _SHOWS]


def _choice(chosen: str) -> Markup:
    """Return the choice of a role."""
    options = [
        Markup('<option value="{0}"{1}>{0}</option>').format(role, Markup(" selected") if role == chosen else "")
        for role in ROLES
    ]
    return Markup('<label><span>Role</span><select name="role">{}</select></label>').format(Markup().join(options))


def _input(name: str, value: str) -> Markup:
    return Markup('<input type="hidden" name="{}" value="{}">').format(name, value)


def _page(title: str, said: str, content: Sequence[Markup]) -> str:
    line = Markup('<p class="said" role="alert">{}</p>').format(said) if said else Markup()
    return str(_PAGE.format(title=title, said=line, content=Markup("\n").join(content)))


def _field(
    name: str, label: str, kind: str, fills: str, longest: int, value: str = "", *, focus: bool = False
) -> Markup:
    more = Markup(' autocapitalize="none" spellcheck="false"') + (Markup(" autofocus") if focus else Markup())
    return _FIELD.format(name=name, label=label, kind=kind, fills=fills, longest=longest, value=value, more=more)


def _form(to: str, fields: Sequence[Markup], token: tuple[str, str], button: str) -> Markup:
    return _FORM.format(to=to, fields=Markup().join(fields), token_name=token[0], token=token[1], button=button)
