<#
.SYNOPSIS
Arranges one score for guitar: file in, guitar score out.

.DESCRIPTION
For "open with" menus, menus of external tools and scripts of file managers. README.md beside this file says how
to set it up. Ends with the exit status of "undervoice arrange"; 69 where there is nothing to arrange with.

Environment: UNDERVOICE_SERVICE as -Service; UNDERVOICE_TOKEN what that service wants to know; UNDERVOICE_NODE
the program "node" and UNDERVOICE_MAIN Undervoice's dist\cli\main.js, where they are not found by themselves.

.PARAMETER InputScore
The score to arrange.

.PARAMETER Options
Options of the arrangement as NAME=VALUE, such as texture=full.

.EXAMPLE
.\arrange-for-guitar.ps1 -Open tune.musicxml texture=full "tuning=D2 A2 D3 G3 B3 E4"
#>
[CmdletBinding(PositionalBinding = $false)]
param(
    [Parameter(Mandatory = $true, Position = 0)][string]$InputScore,
    [Parameter(Position = 1, ValueFromRemainingArguments = $true)][string[]]$Options = @(),
    [string]$Output = '',
    [switch]$Compressed,
    [switch]$Open,
    [string]$OpenWith = '',
    [string]$Service = $env:UNDERVOICE_SERVICE
)

Set-StrictMode -Version 2
$ErrorActionPreference = 'Stop'

$WronglyAsked = 2
$FileTrouble = 3
$NothingToArrangeWith = 69
$NobodyThere = 75
$SecondsToWait = 120

function Stop-WithMessage([string]$Message, [int]$Status) {
    [Console]::Error.WriteLine("arrange-for-guitar: $Message")
    exit $Status
}

# ---- what is asked ----

$wishes = @()
foreach ($word in $Options) {
    if ($word -cnotmatch '^([a-z][A-Za-z]*)=(.*)$') {
        Stop-WithMessage "after the score there are options as NAME=VALUE, not `"$word`"" $WronglyAsked
    }
    $wishes += [pscustomobject]@{ Name = $Matches[1]; Value = $Matches[2] }
}

if (-not (Test-Path -LiteralPath $InputScore -PathType Leaf)) {
    Stop-WithMessage "${InputScore}: there is no such file" $FileTrouble
}
$InputScore = (Resolve-Path -LiteralPath $InputScore).ProviderPath
$inputName = [IO.Path]::GetFileName($InputScore)
if ($Output -eq '') {
    $ending = if ($Compressed) { '-guitar.mxl' } else { '-guitar.musicxml' }
    $stem = [IO.Path]::GetFileNameWithoutExtension($InputScore)
    $Output = Join-Path ([IO.Path]::GetDirectoryName($InputScore)) ($stem + $ending)
}
$Output = $ExecutionContext.SessionState.Path.GetUnresolvedProviderPathFromPSPath($Output)
$folder = [IO.Path]::GetDirectoryName($Output)
$extension = if ([IO.Path]::GetExtension($Output) -eq '.mxl') { '.mxl' } else { '.musicxml' }
$note = Join-Path $folder "$inputName.note.txt"
if (Test-Path -LiteralPath $Output -PathType Container) {
    Stop-WithMessage "${Output}: it is a folder" $FileTrouble
}

# In the folder of the output, so that the finished score only has to be renamed.
$work = Join-Path $folder ('.undervoice-' + [Guid]::NewGuid().ToString('N'))
try { [void][IO.Directory]::CreateDirectory($work) }
catch { Stop-WithMessage "${folder}: no file can be written there" $FileTrouble }
$score = Join-Path $work "score$extension"

# ---- the two ways; each answers with a status and, where it is not 0, with why ----

function Get-Answer([int]$Status, [string[]]$Why = @()) {
    [pscustomobject]@{ Status = $Status; Why = $Why }
}

function Request-Service {
    Add-Type -AssemblyName System.Net.Http
    $mediaType = 'application/vnd.recordare.musicxml'
    if ($extension -eq '.musicxml') { $mediaType += '+xml' }
    $pairs = foreach ($wish in $wishes) {
        [Uri]::EscapeDataString($wish.Name) + '=' + [Uri]::EscapeDataString($wish.Value)
    }
    $address = $Service.TrimEnd('/') + '/arrangements?' + ($pairs -join '&')
    $handler = New-Object System.Net.Http.HttpClientHandler
    $handler.UseProxy = $false
    $client = New-Object System.Net.Http.HttpClient($handler)
    try {
        $client.Timeout = [TimeSpan]::FromSeconds($SecondsToWait)
        [void]$client.DefaultRequestHeaders.TryAddWithoutValidation('Accept', $mediaType)
        if ($env:UNDERVOICE_TOKEN) {
            [void]$client.DefaultRequestHeaders.TryAddWithoutValidation('Authorization', "Bearer $env:UNDERVOICE_TOKEN")
        }
        $body = New-Object System.Net.Http.ByteArrayContent(, [IO.File]::ReadAllBytes($InputScore))
        $body.Headers.ContentType = New-Object System.Net.Http.Headers.MediaTypeHeaderValue('application/octet-stream')
        try {
            $response = $client.PostAsync($address, $body).GetAwaiter().GetResult()
            $bytes = $response.Content.ReadAsByteArrayAsync().GetAwaiter().GetResult()
        }
        catch { return Get-Answer $NobodyThere }
        $status = [int]$response.StatusCode
        if ($status -eq 200) {
            [IO.File]::WriteAllBytes($score, $bytes)
            return Get-Answer 0
        }
        if ($status -eq 503) { return Get-Answer $NobodyThere }
        $exit = if ($status -eq 400) { $WronglyAsked } else { 1 }
        return Get-Answer $exit (Get-Finding ([Text.Encoding]::UTF8.GetString($bytes)) $status)
    }
    finally { $client.Dispose() }
}

# Findings of a refusal (RFC 9457) as lines.
function Get-Finding([string]$Text, [int]$Status) {
    try { $findings = @((ConvertFrom-Json $Text).findings) }
    catch { return "${inputName}: the service answered with status $Status" }
    foreach ($finding in $findings) {
        $line = $inputName
        foreach ($field in 'part', 'line', 'column', 'measure', 'beat') {
            $fact = $finding.place.PSObject.Properties[$field]
            if ($fact) { $line += ", $field $($fact.Value)" }
        }
        $line += ": $($finding.severity): $($finding.message)"
        $hint = $finding.PSObject.Properties['hint']
        if ($hint) { $line += " $($hint.Value)" }
        $line
    }
}

# Node's script is called itself, not the batch file that stands for it: that would read % and & in names.
function Find-Main {
    $shim = Get-Command undervoice -CommandType 'Application, ExternalScript' -ErrorAction SilentlyContinue |
        Select-Object -First 1
    $places = @($env:UNDERVOICE_MAIN, (Join-Path $PSScriptRoot '..\..\dist\cli\main.js'))
    if ($shim) {
        $places += Join-Path (Split-Path -Parent $shim.Path) 'node_modules\undervoice\dist\cli\main.js'
    }
    $places | Where-Object { $_ -and (Test-Path -LiteralPath $_ -PathType Leaf) } | Select-Object -First 1
}

# A word as Windows programs take it back: quotes and the backslashes before them are escaped.
function Get-QuotedWord([string]$Word) {
    '"' + (($Word -replace '(\\*)"', '$1$1\"') -replace '(\\+)$', '$1$1') + '"'
}

function Invoke-Undervoice {
    $main = Find-Main
    $node = if ($env:UNDERVOICE_NODE) { $env:UNDERVOICE_NODE } else { 'node' }
    if (-not $main -or -not (Get-Command $node -ErrorAction SilentlyContinue)) {
        return Get-Answer $NothingToArrangeWith ('arrange-for-guitar: neither a service answers nor is the ' +
            'program "undervoice" found; see the README')
    }
    $words = @($main, 'arrange', '--quiet', '--output', $score)
    foreach ($wish in $wishes) {
        $flag = '--' + ([regex]::Replace($wish.Name, '[A-Z]', { param($capital) '-' + $capital.Value.ToLowerInvariant() }))
        if ($wish.Value -eq 'true') { $words += $flag }
        elseif ($wish.Value -ne 'false') { $words += "$flag=$($wish.Value)" }
    }
    $words += @('--', $InputScore)
    $start = New-Object System.Diagnostics.ProcessStartInfo
    $start.FileName = (Get-Command $node).Source
    $start.Arguments = ($words | ForEach-Object { Get-QuotedWord $_ }) -join ' '
    $start.UseShellExecute = $false
    $start.CreateNoWindow = $true
    $start.RedirectStandardError = $true
    $start.StandardErrorEncoding = [Text.Encoding]::UTF8
    $process = [System.Diagnostics.Process]::Start($start)
    $said = $process.StandardError.ReadToEnd()
    $process.WaitForExit()
    Get-Answer $process.ExitCode @($said -split '\r?\n' | Where-Object { $_ })
}

# ---- the score, or a note in its place ----

# Whether two files hold the same bytes.
function Test-SameFile([string]$One, [string]$Other) {
    (Get-FileHash -LiteralPath $One).Hash -eq (Get-FileHash -LiteralPath $Other).Hash
}

# A guitar score that is there and differs may have been worked on: it is kept under another name.
function Move-Earlier {
    if (-not (Test-Path -LiteralPath $Output) -or (Test-SameFile $Output $score)) { return }
    $stem = [IO.Path]::GetFileNameWithoutExtension($Output) -replace '-guitar$', ''
    $number = 1
    while (Test-Path -LiteralPath (Join-Path $folder "$stem-earlier-$number-guitar$extension")) { $number++ }
    $earlier = Join-Path $folder "$stem-earlier-$number-guitar$extension"
    [IO.File]::Move($Output, $earlier)
    "Kept: $earlier"
}

try {
    $answer = Get-Answer $NobodyThere
    if ($Service) { $answer = Request-Service }
    if ($answer.Status -eq $NobodyThere) { $answer = Invoke-Undervoice }

    if ($answer.Status -eq 0) {
        try {
            Move-Earlier
            if (Test-Path -LiteralPath $Output) { [IO.File]::Replace($score, $Output, [NullString]::Value) }
            else { [IO.File]::Move($score, $Output) }
        }
        catch { Stop-WithMessage "${Output}: cannot be written: $($_.Exception.Message)" $FileTrouble }
        if (Test-Path -LiteralPath $note) { Remove-Item -LiteralPath $note -Force }
        "Written: $Output"
        if ($OpenWith) { Start-Process -FilePath $OpenWith -ArgumentList (Get-QuotedWord $Output) }
        elseif ($Open) { Invoke-Item -LiteralPath $Output }
    }
    else {
        foreach ($line in $answer.Why) { [Console]::Error.WriteLine($line) }
        $lines = @("Undervoice did not arrange $inputName.", '') + $answer.Why +
            @('', 'The score itself was not touched. Arrange it again when this is mended; the note then goes away.', '')
        $draft = Join-Path $work 'note'
        [IO.File]::WriteAllText($draft, ($lines -join "`r`n"), (New-Object Text.UTF8Encoding($false)))
        if (Test-Path -LiteralPath $note) { [IO.File]::Replace($draft, $note, [NullString]::Value) }
        else { [IO.File]::Move($draft, $note) }
        # From a menu or a file manager nobody sees a terminal.
        if ($Open -or $OpenWith) { Invoke-Item -LiteralPath $note }
    }
    exit $answer.Status
}
finally {
    Remove-Item -LiteralPath $work -Recurse -Force -ErrorAction SilentlyContinue
}
